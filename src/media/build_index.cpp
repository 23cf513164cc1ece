#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

#include "media/describe.hpp"
#include "media/frame_index.hpp"
#include "media/frame_source.hpp"
#include "media/timestamps.hpp"

namespace quarterturn::media {
namespace {

namespace fs = std::filesystem;

Error stopped(const fs::path& path) {
    return {ErrorCode::cancelled, fmt::format("Reading {} was stopped.", path.string())};
}

/// One packet that makes a picture.
struct PacketNote {
    std::optional<std::int64_t> pts;
    std::optional<std::int64_t> dts;
    std::int64_t position = -1;
    bool key = false;
};

std::optional<std::int64_t> known(std::int64_t timestamp) {
    return timestamp == AV_NOPTS_VALUE ? std::nullopt : std::optional{timestamp};
}

/// VP8 keeps pictures that only serve as a reference in packets of their own (RFC 6386, 9.1: show_frame).
bool makes_no_picture(const AVPacket& packet, AVCodecID codec) {
    return codec == AV_CODEC_ID_VP8 && (packet.data[0] & 0x10) == 0;
}

struct PacketNotes {
    std::vector<PacketNote> shown;  ///< decoding order
    bool hidden_first = false;      ///< an edit list hides packets before the first shown one
};

Result<PacketNotes> read_packets(const Source& source, const fs::path& path, const std::stop_token& stop) {
    PacketNotes notes;
    const AVCodecID codec = source.stream()->codecpar->codec_id;
    const PacketPtr packet = new_packet();
    while (read_video_packet(source, *packet)) {
        if (stop.stop_requested()) return stopped(path);
        if (makes_no_picture(*packet, codec)) continue;
        if ((packet->flags & AV_PKT_FLAG_DISCARD) != 0) {
            notes.hidden_first = notes.hidden_first || notes.shown.empty();
            continue;
        }
        notes.shown.push_back(
            {known(packet->pts), known(packet->dts), packet->pos, (packet->flags & AV_PKT_FLAG_KEY) != 0});
    }
    return notes;
}

/// A file cut out of a longer one may begin with pictures whose references are gone: those decoded before the first key
/// picture or shown before it. A decoder drops them, so they are no pictures of this film.
void drop_undecodable_start(PacketNotes& notes) {
    std::vector<PacketNote>& shown = notes.shown;
    if (notes.hidden_first) return;  // their references are in the hidden packets
    const auto search_end = shown.begin() + std::min<std::ptrdiff_t>(std::ssize(shown), start_search_packets);
    const auto first_key = std::find_if(shown.begin(), search_end, [](const PacketNote& note) { return note.key; });
    if (first_key == search_end) return;
    const std::optional<std::int64_t> start = first_key->pts;
    shown.erase(shown.begin(), first_key);
    if (start) std::erase_if(shown, [&](const PacketNote& note) { return note.pts && *note.pts < *start; });
}

FrameIndex sorted_index(const std::vector<PacketNote>& notes, TimeBase base) {
    FrameIndex index{.time_base = base, .pictures = {}, .warnings = {}};
    index.pictures.reserve(notes.size());
    for (const PacketNote& note : notes) {
        const std::int64_t pts = note.pts.value_or(0);
        index.pictures.push_back(
            {pts, note.dts.value_or(pts), note.position, static_cast<std::uint32_t>(index.pictures.size()), note.key});
    }
    std::sort(index.pictures.begin(), index.pictures.end(),
              [](const IndexEntry& a, const IndexEntry& b) { return a.pts < b.pts; });
    return index;
}

bool each_has_its_own_time(const std::vector<PacketNote>& notes, const FrameIndex& sorted) {
    return std::all_of(notes.begin(), notes.end(), [](const PacketNote& note) { return note.pts.has_value(); }) &&
           std::adjacent_find(sorted.pictures.begin(), sorted.pictures.end(),
                              [](const IndexEntry& a, const IndexEntry& b) { return a.pts == b.pts; }) ==
               sorted.pictures.end();
}

/// Two packets may make one interlaced picture.
bool is_interlaced(const Source& source) {
    const AVFieldOrder order = source.stream()->codecpar->field_order;
    return order != AV_FIELD_UNKNOWN && order != AV_FIELD_PROGRESSIVE;
}

/// For files whose packets do not say when their picture is shown: the decoder does. Pictures are matched to packets by
/// their place in the file.
Result<FrameIndex> index_by_decoding(const fs::path& path, const std::vector<PacketNote>& notes,
                                     const std::stop_token& stop) {
    std::unordered_map<std::int64_t, std::uint32_t> order_at;
    for (std::size_t i = 0; i < notes.size(); ++i) order_at.emplace(notes[i].position, static_cast<std::uint32_t>(i));
    Result<Source> source = open_source(path);
    if (!source) return source.error();
    Result<CodecPtr> decoder = open_decoder(*source, path, {});
    if (!decoder) return decoder.error();
    Timestamps timestamps{usual_distance(*source->stream())};
    FrameIndex index{
        .time_base = time_base_of(source->stream()->time_base), .pictures = {}, .timed_packets = false, .warnings = {}};
    FrameSource frames{std::move(source).value(), std::move(decoder).value(), path};
    while (const AVFrame* frame = frames.next()) {
        if (stop.stop_requested()) return stopped(path);
        const std::int64_t pts = timestamps.next(*frame);
        const auto found = order_at.find(frame->pkt_pos);
        if (found == order_at.end()) continue;
        const PacketNote& note = notes[found->second];
        index.pictures.push_back({pts, note.dts.value_or(pts), note.position, found->second, note.key});
        order_at.erase(found);  // a second picture of the same packet could not be told from the first
    }
    return index;
}

/// Renumbers decoding order without gaps (pictures that could not be matched or decoded leave some).
void close_gaps(FrameIndex& index) {
    std::vector<std::size_t> by_order(index.pictures.size());
    for (std::size_t i = 0; i < by_order.size(); ++i) by_order[i] = i;
    std::sort(by_order.begin(), by_order.end(),
              [&](std::size_t a, std::size_t b) { return index.pictures[a].order < index.pictures[b].order; });
    for (std::size_t i = 0; i < by_order.size(); ++i) index.pictures[by_order[i]].order = static_cast<std::uint32_t>(i);
}

void warn_when_short(FrameIndex& index, std::int64_t claimed) {
    const auto found = static_cast<std::int64_t>(index.pictures.size());
    if (found >= claimed) return;
    index.complete = false;
    index.warnings.push_back(fmt::format(
        "Only {} of {} pictures are in the file: it is cut or damaged; copy it again from the phone.", found, claimed));
}

}  // namespace

Result<FrameIndex> build_index(const fs::path& path, std::stop_token stop) {
    const Result<Source> source = open_source(path);
    if (!source) return source.error();
    const std::int64_t claimed = pictures_claimed(*source);
    Result<PacketNotes> notes = read_packets(*source, path, stop);
    if (!notes) return notes.error();
    drop_undecodable_start(*notes);
    FrameIndex index = sorted_index(notes->shown, time_base_of(source->stream()->time_base));
    if (!each_has_its_own_time(notes->shown, index) || is_interlaced(*source)) {
        Result<FrameIndex> decoded = index_by_decoding(path, notes->shown, stop);
        if (!decoded) return decoded;
        index = std::move(decoded).value();
        close_gaps(index);
    }
    if (index.pictures.empty())
        return Error{ErrorCode::bad_input,
                     fmt::format("{} holds no readable picture; copy it again from the phone.", path.string())};
    warn_when_short(index, claimed);
    return index;
}

}  // namespace quarterturn::media
