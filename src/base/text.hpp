#pragma once
/// Text in any language, as UTF-8.
#include <string>
#include <string_view>

namespace quarterturn {

/// Whether `text` is well-formed UTF-8 (RFC 3629: no overlong forms, surrogates or values above U+10FFFF).
[[nodiscard]] bool is_utf8(std::string_view text);

/// `text` with every ill-formed byte replaced by U+FFFD, for showing names that come from elsewhere.
[[nodiscard]] std::string to_utf8(std::string_view text);

/// Without ASCII white space at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// Number of code points in well-formed UTF-8.
[[nodiscard]] std::size_t code_points(std::string_view text);

}  // namespace quarterturn
