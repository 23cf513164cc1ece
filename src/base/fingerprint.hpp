#pragma once
/// How a clip is known whatever its name: "sha256:" and 64 lower-case hexadecimal digits of the file's bytes.
#include <string_view>

namespace quarterturn {

[[nodiscard]] bool is_fingerprint(std::string_view text);

}  // namespace quarterturn
