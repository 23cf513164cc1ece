#include "media/linear_reader.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "media/describe.hpp"
#include "media/frame_source.hpp"
#include "media/picture_from.hpp"
#include "media/timestamps.hpp"

namespace quarterturn::media {
namespace {

/// A clip that ends this much before its claimed length is called cut, where the container does not count pictures.
constexpr double missing_seconds = 1.0;

}  // namespace

struct LinearReader::State {
    ClipInfo info;
    FrameSource frames;
    Timestamps timestamps;
    bool ended = false;
    std::optional<std::int64_t> first_pts = std::nullopt;
    std::optional<std::int64_t> last_pts = std::nullopt;
};

LinearReader::LinearReader(std::unique_ptr<State> state) : state_(std::move(state)) {}
LinearReader::LinearReader(LinearReader&&) noexcept = default;
LinearReader& LinearReader::operator=(LinearReader&&) noexcept = default;
LinearReader::~LinearReader() = default;

Result<LinearReader> LinearReader::open(const std::filesystem::path& path, ReadSettings settings) {
    Result<Source> source = open_source(path);
    if (!source) return source.error();
    ClipInfo info = describe(*source, path);
    Result<CodecPtr> decoder = open_decoder(*source, path, {settings.threads});
    if (!decoder) return decoder.error();
    const Timestamps timestamps{usual_distance(*source->stream())};
    FrameSource frames{std::move(source).value(), std::move(decoder).value(), path};
    return LinearReader{std::unique_ptr<State>{new State{std::move(info), std::move(frames), timestamps}}};
}

const ClipInfo& LinearReader::info() const {
    return state_->info;
}

Result<std::optional<Picture>> LinearReader::next() {
    while (AVFrame* frame = state_->frames.next()) {
        const std::int64_t pts = state_->timestamps.next(*frame);
        std::optional<Picture> picture = picture_from(*frame, pts);
        if (!picture) continue;
        if (!state_->first_pts) state_->first_pts = pts;
        state_->last_pts = pts;
        return picture;
    }
    state_->ended = true;
    return std::optional<Picture>{};
}

std::vector<std::string> LinearReader::warnings() const {
    std::vector<std::string> result = state_->info.warnings;
    const ReadCounts& counts = state_->frames.counts();
    if (counts.damaged > 0)
        result.push_back(fmt::format("{} of {} pictures are damaged; copy the film again from the phone if you can.",
                                     counts.damaged, counts.pictures));
    if (!state_->ended) return result;
    const ClipInfo& info = state_->info;
    const std::int64_t expected = std::max(info.frames_claimed, counts.packets);
    if (counts.pictures < expected) {
        result.push_back(
            fmt::format("Only {} of {} pictures could be read: the file is cut or damaged; copy it again from "
                        "the phone.",
                        counts.pictures, expected));
    } else if (info.frames_claimed == 0 && info.duration_s > 0 && state_->first_pts) {
        const double read = seconds_between(*state_->first_pts, *state_->last_pts, info.time_base);
        if (read + missing_seconds < info.duration_s)
            result.push_back(
                fmt::format("Only about {:.1f} of {:.1f} seconds ({} pictures) could be read: the file is cut or "
                            "damaged; copy it again from the phone.",
                            read, info.duration_s, counts.pictures));
    }
    return result;
}

}  // namespace quarterturn::media
