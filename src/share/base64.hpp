#pragma once
#include <string>
#include <string_view>

namespace quarterturn::share {

/// RFC 4648, section 4: the standard alphabet with padding.
[[nodiscard]] std::string base64(std::string_view bytes);

}  // namespace quarterturn::share
