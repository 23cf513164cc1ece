#include "base/text.hpp"

#include <cstdint>

namespace quarterturn {
namespace {

/// Length of the well-formed sequence at the front of `text`, 0 when there is none (RFC 3629, section 4).
std::size_t sequence_length(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[i]); };
    const std::uint8_t lead = byte(0);
    if (lead < 0x80) return 1;
    const std::size_t length = lead >= 0xC2 && lead <= 0xDF   ? 2
                               : (lead & 0xF0U) == 0xE0       ? 3
                               : lead >= 0xF0 && lead <= 0xF4 ? 4
                                                              : 0;
    if (length == 0 || text.size() < length) return 0;
    const std::uint8_t low = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80;
    const std::uint8_t high = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
    if (byte(1) < low || byte(1) > high) return 0;
    for (std::size_t i = 2; i < length; ++i) {
        if ((byte(i) & 0xC0U) != 0x80) return 0;
    }
    return length;
}

}  // namespace

bool is_utf8(std::string_view text) {
    while (!text.empty()) {
        const std::size_t length = sequence_length(text);
        if (length == 0) return false;
        text.remove_prefix(length);
    }
    return true;
}

std::string to_utf8(std::string_view text) {
    std::string clean;
    while (!text.empty()) {
        const std::size_t length = sequence_length(text);
        clean += length == 0 ? std::string_view{"\xEF\xBF\xBD"} : text.substr(0, length);
        text.remove_prefix(length == 0 ? 1 : length);
    }
    return clean;
}

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view space = " \t\r\n\f\v";
    const auto first = text.find_first_not_of(space);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(space) - first + 1);
}

std::size_t code_points(std::string_view text) {
    std::size_t count = 0;
    for (const char c : text) count += (static_cast<std::uint8_t>(c) & 0xC0U) != 0x80 ? 1U : 0U;
    return count;
}

}  // namespace quarterturn
