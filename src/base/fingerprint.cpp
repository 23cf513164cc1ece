#include "base/fingerprint.hpp"

namespace quarterturn {

bool is_fingerprint(std::string_view text) {
    constexpr std::string_view prefix = "sha256:";
    return text.size() == prefix.size() + 64 && text.starts_with(prefix) &&
           text.find_first_not_of("0123456789abcdef", prefix.size()) == std::string_view::npos;
}

}  // namespace quarterturn
