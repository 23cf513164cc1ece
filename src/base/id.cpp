#include "base/id.hpp"

#include <fmt/format.h>

#include <cctype>
#include <cstdint>
#include <random>

namespace quarterturn {

std::string new_id_at(std::chrono::sys_time<std::chrono::milliseconds> instant) {
    thread_local std::random_device device;
    const auto bits = [] { return (std::uint64_t{device()} << 32U) | device(); };
    const auto milliseconds = static_cast<std::uint64_t>(instant.time_since_epoch().count()) & 0xFFFFFFFFFFFFULL;
    const std::uint64_t high = (milliseconds << 16U) | 0x7000U | (bits() & 0x0FFFU);
    const std::uint64_t low = (bits() & 0x3FFFFFFFFFFFFFFFULL) | 0x8000000000000000ULL;
    return fmt::format("{:08x}-{:04x}-{:04x}-{:04x}-{:012x}", high >> 32U, (high >> 16U) & 0xFFFFU, high & 0xFFFFU,
                       low >> 48U, low & 0xFFFFFFFFFFFFULL);
}

std::string new_id() {
    return new_id_at(std::chrono::time_point_cast<std::chrono::milliseconds>(std::chrono::system_clock::now()));
}

Result<std::string> parse_id(std::string_view text) {
    const Error bad{ErrorCode::bad_input, fmt::format("\"{}\" is not an id (8-4-4-4-12 hexadecimal digits).", text)};
    if (text.size() != 36) return bad;
    std::string lower;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto c = static_cast<unsigned char>(text[i]);
        const bool dash = i == 8 || i == 13 || i == 18 || i == 23;
        if (dash ? c != '-' : std::isxdigit(c) == 0) return bad;
        lower += static_cast<char>(std::tolower(c));
    }
    return lower;
}

}  // namespace quarterturn
