// Kept landmarks lie in a folder anybody may sync or damage: reading them ends in a series that survives another round,
// or in a plain refusal.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "body/landmark_series.hpp"

namespace {

using namespace quarterturn::body;

void check(const std::string& bytes) {
    const auto series = load_series(bytes);
    if (!series) return;
    const auto again = load_series(save_series(*series));
    if (!again || !(*again == *series)) std::abort();
}

/// The seal of save_series: Fowler-Noll-Vo 1a over what comes before, eight bytes, least significant first.
std::string sealed(std::string bytes) {
    std::uint64_t hash = 0xcbf29ce484222325ULL;
    for (const char byte : bytes) hash = (hash ^ static_cast<unsigned char>(byte)) * 0x100000001b3ULL;
    for (int i = 0; i < 8; ++i) bytes += static_cast<char>((hash >> (8 * i)) & 0xffU);
    return bytes;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    check(bytes);
    // The seal keeps damage out; with a fresh one the parser behind it is reached too.
    check(sealed(bytes.substr(0, size < 8 ? 0 : size - 8)));
    return 0;
}
