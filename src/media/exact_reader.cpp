#include "media/exact_reader.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "media/background_index.hpp"
#include "media/describe.hpp"
#include "media/picture_finder.hpp"

namespace quarterturn::media {
namespace {

/// Going back by at most this many pictures is taken for stepping backwards, going forward by at most so many for
/// stepping or dragging forwards; anything else is a jump.
constexpr std::size_t step_back = 16;
constexpr std::size_t step_forward = 64;

Error no_picture(const std::filesystem::path& path, std::int64_t pts) {
    return {ErrorCode::not_found, fmt::format("{} has no readable picture with timestamp {}.", path.string(), pts)};
}

Error at_the_end(const std::filesystem::path& path) {
    return {ErrorCode::not_found, fmt::format("{} has no further picture in this direction.", path.string())};
}

std::shared_ptr<const FrameIndex> unfinished(TimeBase base) {
    return std::make_shared<const FrameIndex>(
        FrameIndex{.time_base = base, .pictures = {}, .complete = false, .warnings = {}});
}

}  // namespace

struct ExactReader::State {
    State(ClipInfo described, PictureFinder pictures)
        : info(std::move(described)), finder(std::move(pictures)), index(unfinished(info.time_base)) {}

    ClipInfo info;
    PictureFinder finder;
    std::shared_ptr<const FrameIndex> index;
    std::optional<PacketNames> names;  ///< once there is an index
    std::optional<BackgroundIndex> background;
    std::optional<Error> index_error;
    std::optional<std::int64_t> current;  ///< the picture given last
    std::optional<std::int64_t> first;    ///< without an index: the first picture

    void adopt(FrameIndex ready);
    void adopt(std::optional<Result<FrameIndex>> result);
    [[nodiscard]] bool indexed();
    [[nodiscard]] Status wait();
    [[nodiscard]] std::optional<std::int64_t> first_pts();
    [[nodiscard]] Result<Picture> given(std::optional<Picture> picture, std::int64_t wanted);
    [[nodiscard]] Result<Picture> of_rank(std::size_t rank);
    [[nodiscard]] Result<Picture> step(int direction);
};

void ExactReader::State::adopt(FrameIndex ready) {
    index = std::make_shared<const FrameIndex>(std::move(ready));
    names.emplace(index);
    background.reset();
}

void ExactReader::State::adopt(std::optional<Result<FrameIndex>> result) {
    if (!result) return;
    if (*result)
        adopt(std::move(*result).value());
    else
        index_error = result->error();
}

/// Whether pictures can be found by index. Files whose packets carry no timestamps cannot be searched otherwise, so
/// those wait for it.
bool ExactReader::State::indexed() {
    if (names) return true;
    if (background) adopt(background->take_if_ready());
    const bool must_wait = !names && background && info.container == "avi";
    if (must_wait) adopt(background->wait());
    return names.has_value();
}

Status ExactReader::State::wait() {
    if (!names && background) adopt(background->wait());
    if (names) return ok();
    return index_error ? Status{*index_error} : ok();
}

std::optional<std::int64_t> ExactReader::State::first_pts() {
    if (indexed()) return index->pictures.front().pts;
    if (!first) {
        const std::optional<Picture> picture = finder.at_or_before(INT64_MIN / 4);
        if (picture) first = picture->pts;
    }
    return first;
}

Result<Picture> ExactReader::State::given(std::optional<Picture> picture, std::int64_t wanted) {
    if (!picture) return no_picture(info.path, wanted);
    current = picture->pts;
    return *std::move(picture);
}

Result<Picture> ExactReader::State::of_rank(std::size_t rank) {
    const std::int64_t pts = index->pictures[rank].pts;
    const std::optional<std::size_t> here = current ? index->rank_of(*current) : std::nullopt;
    using Approach = PictureFinder::Approach;
    Approach approach = Approach::jump;
    if (here && rank < *here && *here - rank <= step_back) approach = Approach::backwards;
    if (here && rank > *here && rank - *here <= step_forward) approach = Approach::forwards;
    return given(finder.of_rank(*names, rank, approach), pts);
}

/// The next readable picture in a direction, +1 or -1.
Result<Picture> ExactReader::State::step(int direction) {
    const std::int64_t last = static_cast<std::int64_t>(index->pictures.size()) - 1;
    std::int64_t rank = static_cast<std::int64_t>(index->rank_at(*current).value_or(0));
    for (rank += direction; rank >= 0 && rank <= last; rank += direction) {
        Result<Picture> picture = of_rank(static_cast<std::size_t>(rank));
        if (picture) return picture;
    }
    return at_the_end(info.path);
}

ExactReader::ExactReader(std::unique_ptr<State> state) : state_(std::move(state)) {}
ExactReader::ExactReader(ExactReader&&) noexcept = default;
ExactReader& ExactReader::operator=(ExactReader&&) noexcept = default;
ExactReader::~ExactReader() = default;

Result<ExactReader> ExactReader::open(const std::filesystem::path& path, ExactSettings settings,
                                      std::optional<FrameIndex> index) {
    if (!index && settings.wait_for_index) {
        Result<FrameIndex> built = build_index(path);
        if (!built) return built.error();
        index = std::move(built).value();
    }
    if (index && index->pictures.empty())
        return Error{ErrorCode::bad_input, fmt::format("The index given for {} is empty.", path.string())};
    Result<SeekingDecoder> decoder = SeekingDecoder::open(path, settings.threads);
    if (!decoder) return decoder.error();
    ClipInfo info = describe(decoder->source(), path);
    PictureFinder finder{std::move(decoder).value(), settings.cache_mib << 20U};
    ExactReader reader{std::make_unique<State>(std::move(info), std::move(finder))};
    if (index)
        reader.state_->adopt(*std::move(index));
    else
        reader.state_->background.emplace(path);
    return reader;
}

const ClipInfo& ExactReader::info() const {
    return state_->info;
}
const FrameIndex& ExactReader::index() const {
    return *state_->index;
}
bool ExactReader::index_ready() {
    return state_->indexed();
}
Status ExactReader::wait_for_index() {
    return state_->wait();
}
std::size_t ExactReader::cached_bytes() const {
    return state_->finder.cache().bytes();
}

Result<Picture> ExactReader::frame_at(std::int64_t pts) {
    if (state_->indexed()) {
        const std::optional<std::size_t> rank = state_->index->rank_of(pts);
        return rank ? state_->of_rank(*rank) : no_picture(state_->info.path, pts);
    }
    std::optional<Picture> picture = state_->finder.at_or_before(pts);
    if (!picture || picture->pts != pts) return no_picture(state_->info.path, pts);
    return state_->given(std::move(picture), pts);
}

Result<Picture> ExactReader::frame_of_rank(std::size_t rank) {
    if (Status status = state_->wait(); !status) return status.error();
    if (rank >= state_->index->pictures.size())
        return Error{ErrorCode::not_found,
                     fmt::format("{} has {} pictures; there is none of number {}.", state_->info.path.string(),
                                 state_->index->pictures.size(), rank)};
    return state_->of_rank(rank);
}

Status ExactReader::want_only(const std::vector<std::size_t>& ranks) {
    if (Status status = state_->wait(); !status) return status;
    std::vector<bool> wanted(state_->index->pictures.size(), false);
    for (const std::size_t rank : ranks)
        if (rank < wanted.size()) wanted[rank] = true;
    state_->finder.want_only(std::move(wanted));
    return ok();
}

Result<Picture> ExactReader::frame_at_seconds(double seconds) {
    const std::optional<std::int64_t> first = state_->first_pts();
    if (!first) return no_picture(state_->info.path, 0);
    const std::int64_t pts = nearest_tick(std::max(0.0, seconds), state_->info.time_base, *first);
    if (state_->indexed()) return state_->of_rank(*state_->index->rank_at(pts));
    return state_->given(state_->finder.at_or_before(pts), pts);
}

Result<Picture> ExactReader::nearest(double seconds) {
    const std::optional<std::int64_t> first = state_->first_pts();
    if (!first) return no_picture(state_->info.path, 0);
    const std::int64_t pts = nearest_tick(std::max(0.0, seconds), state_->info.time_base, *first);
    if (state_->indexed()) return state_->of_rank(*state_->index->rank_nearest(pts));
    std::optional<Picture> before = state_->finder.at_or_before(pts);
    if (!before || before->pts >= pts) return state_->given(std::move(before), pts);
    std::optional<Picture> after = state_->finder.after(before->pts);
    const bool later_is_nearer = after && after->pts - pts < pts - before->pts;
    return state_->given(later_is_nearer ? std::move(after) : std::move(before), pts);
}

Result<Picture> ExactReader::next() {
    if (!state_->current) return frame_at_seconds(0);
    if (state_->indexed()) return state_->step(+1);
    std::optional<Picture> picture = state_->finder.after(*state_->current);
    if (!picture) return at_the_end(state_->info.path);
    return state_->given(std::move(picture), 0);
}

Result<Picture> ExactReader::previous() {
    if (!state_->current) return frame_at_seconds(0);
    if (state_->indexed()) return state_->step(-1);
    std::optional<Picture> picture = state_->finder.at_or_before(*state_->current - 1);
    if (!picture || picture->pts >= *state_->current) return at_the_end(state_->info.path);
    return state_->given(std::move(picture), 0);
}

}  // namespace quarterturn::media
