#include "media/variable_rate.hpp"

#include <algorithm>
#include <vector>

namespace quarterturn::media {
namespace {

/// Distances that differ by less than this part of the usual one are the recorder's clock, not its rate.
constexpr double rate_tolerance = 0.02;
constexpr std::size_t packets_looked_at = 300;
/// Decoders reorder over at most this many pictures, so the last ones read may have gaps still to be filled.
constexpr std::size_t reorder_window = 16;

/// Decoding times from the container's index: the distances of presentation, a few pictures shifted. Empty when there
/// is no complete index.
std::vector<std::int64_t> times_in_index(AVStream* stream) {
    std::vector<std::int64_t> times;
    const int entries = avformat_index_get_entries_count(stream);
    if (stream->nb_frames < 4 || entries < stream->nb_frames / 2) return times;
    for (int i = 0; i < entries; ++i) {
        const AVIndexEntry* entry = avformat_index_get_entry(stream, i);
        if ((entry->flags & AVINDEX_DISCARD_FRAME) == 0) times.push_back(entry->timestamp);
    }
    std::sort(times.begin(), times.end());
    return times;
}

std::vector<std::int64_t> times_in_packets(const std::filesystem::path& path) {
    const Result<Source> source = open_source(path);
    std::vector<std::int64_t> shown;
    std::vector<std::int64_t> decoded;
    if (!source) return shown;
    const PacketPtr packet = new_packet();
    while (decoded.size() < packets_looked_at && read_video_packet(*source, *packet)) {
        if (packet->pts != AV_NOPTS_VALUE) shown.push_back(packet->pts);
        decoded.push_back(packet->dts != AV_NOPTS_VALUE ? packet->dts : packet->pts);
    }
    const bool ended = decoded.size() < packets_looked_at;
    // AVI knows decoding times only.
    std::vector<std::int64_t> times = shown.size() < decoded.size() ? std::move(decoded) : std::move(shown);
    std::erase(times, AV_NOPTS_VALUE);
    std::sort(times.begin(), times.end());
    if (!ended && times.size() > reorder_window) times.resize(times.size() - reorder_window);
    return times;
}

}  // namespace

bool distances_vary(std::span<const std::int64_t> sorted_pts) {
    if (sorted_pts.size() < 4) return false;
    std::vector<std::int64_t> distances;
    distances.reserve(sorted_pts.size() - 1);
    for (std::size_t i = 1; i < sorted_pts.size(); ++i) distances.push_back(sorted_pts[i] - sorted_pts[i - 1]);
    const auto middle = distances.begin() + static_cast<std::ptrdiff_t>(distances.size() / 2);
    std::nth_element(distances.begin(), middle, distances.end());
    const double usual = static_cast<double>(*middle);
    const auto [least, most] = std::minmax_element(distances.begin(), distances.end());
    const double spread = static_cast<double>(*most) - static_cast<double>(*least);
    return spread > std::max(2.0, rate_tolerance * usual);
}

bool has_variable_rate(const Source& source, const std::filesystem::path& path) {
    std::vector<std::int64_t> times = times_in_index(source.stream());
    if (times.empty()) times = times_in_packets(path);
    return distances_vary(times);
}

}  // namespace quarterturn::media
