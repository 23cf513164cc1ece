#include "media/libav.hpp"

#include <fmt/format.h>

#include <array>
#include <cerrno>
#include <new>

#include "base/file.hpp"

namespace quarterturn::media {

std::string libav_text(int error_number) {
    std::array<char, AV_ERROR_MAX_STRING_SIZE> text{};
    av_strerror(error_number, text.data(), text.size());
    return text.data();
}

Error libav_error(int error_number, std::string_view action, const std::filesystem::path& path, ErrorCode otherwise) {
    // libav's own codes are four-letter tags far outside the range of errno.
    const int system_number = AVUNERROR(error_number);
    if (system_number > 0 && system_number < 4096 && system_number != EINVAL && system_number != EDOM)
        return system_error(system_number, action, path);
    return {otherwise, fmt::format("Cannot {} {}: {}.", action, path.string(), libav_text(error_number))};
}

FramePtr new_frame() {
    FramePtr frame{av_frame_alloc()};
    if (!frame) throw std::bad_alloc{};
    return frame;
}

PacketPtr new_packet() {
    PacketPtr packet{av_packet_alloc()};
    if (!packet) throw std::bad_alloc{};
    return packet;
}

/// A damaged MP4 of a few KB can claim so many pictures that its tables take gigabytes. An hour's tables take 10 MB,
/// the largest plane decoded (8192 x 8192, 10 bits) 134 MB.
constexpr std::size_t largest_allocation = std::size_t{256} << 20U;

void prepare_libav() {
    static const bool done = [] {
        av_log_set_level(AV_LOG_QUIET);
        av_max_alloc(largest_allocation);
        return true;
    }();
    (void)done;
}

}  // namespace quarterturn::media
