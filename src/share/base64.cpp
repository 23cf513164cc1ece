#include "share/base64.hpp"

#include <cstdint>

namespace quarterturn::share {

std::string base64(std::string_view bytes) {
    constexpr std::string_view alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t at = 0; at < bytes.size(); at += 3) {
        const std::size_t have = std::min<std::size_t>(3, bytes.size() - at);
        std::uint32_t group = 0;
        for (std::size_t i = 0; i < 3; ++i)
            group = (group << 8U) | (i < have ? static_cast<std::uint8_t>(bytes[at + i]) : 0U);
        for (std::size_t i = 0; i < 4; ++i)
            out += i <= have ? alphabet[(group >> (18U - 6U * static_cast<unsigned>(i))) & 63U] : '=';
    }
    return out;
}

}  // namespace quarterturn::share
