#include "media/temporal_layers.hpp"

#include <cstring>
#include <span>

namespace quarterturn::media {
namespace {

constexpr std::size_t unit_header_bytes = 2;
constexpr std::uint8_t picture_units_end = 32;  // unit types below are slices of pictures

bool is_higher(std::span<const std::uint8_t> unit) {
    if (unit.size() < unit_header_bytes) return false;
    const std::uint8_t type = (unit[0] >> 1U) & 0x3FU;
    return type < picture_units_end && (unit[1] & 0x07U) > 1;
}

bool in_sized_units(std::span<const std::uint8_t> data, std::size_t length_bytes) {
    while (data.size() > length_bytes) {
        std::size_t size = 0;
        for (std::size_t i = 0; i < length_bytes; ++i) size = size << 8U | data[i];
        data = data.subspan(length_bytes);
        if (is_higher(data)) return true;
        if (size > data.size()) return false;
        data = data.subspan(size);
    }
    return false;
}

bool in_start_coded_units(std::span<const std::uint8_t> data) {
    for (std::size_t i = 0; i + 3 < data.size(); ++i)
        if (data[i] == 0 && data[i + 1] == 0 && data[i + 2] == 1 && is_higher(data.subspan(i + 3))) return true;
    return false;
}

}  // namespace

int unit_length_bytes(const AVCodecParameters& stream) {
    constexpr int length_field = 21;
    if (stream.extradata_size <= length_field || stream.extradata[0] != 1) return 0;
    return (stream.extradata[length_field] & 3) + 1;
}

bool is_of_higher_layer(const AVPacket& packet, AVCodecID codec, int length_bytes) {
    if (codec != AV_CODEC_ID_HEVC) return false;
    const std::span data{packet.data, static_cast<std::size_t>(packet.size)};
    return length_bytes > 0 ? in_sized_units(data, static_cast<std::size_t>(length_bytes)) : in_start_coded_units(data);
}

}  // namespace quarterturn::media
