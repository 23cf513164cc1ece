#include "app/pair_player.hpp"

#include <algorithm>

namespace quarterturn::app {
namespace {

// Fine enough that a picture comes on within a fifth of its own time at 30 a second; five minutes are 43000 steps.
constexpr double grid_s = 1.0 / 144;
constexpr std::size_t worth_decoding_through = 60;  // pictures; further away a jump to a key picture is quicker
constexpr double late_s = 0.1;

}  // namespace

std::vector<DueRank> schedule(const media::FrameIndex& index, const posing::ClipFacts& clip,
                              const std::function<double(double)>& seconds_at, double from_s, double to_s) {
    std::vector<DueRank> out;
    if (index.pictures.empty()) return out;
    const auto steps = static_cast<std::size_t>(std::max(0.0, (to_s - from_s) / grid_s)) + 1;
    for (std::size_t i = 0; i < steps; ++i) {
        const double since = static_cast<double>(i) * grid_s;
        // Half a step ahead: the mean error of the grid is then nothing.
        const double at = seconds_at(from_s + since + grid_s / 2);
        const std::size_t rank = index.rank_at(compare::pts_of(clip, at)).value_or(0);
        if (out.empty() || out.back().rank != rank) out.push_back({since, rank});
    }
    return out;
}

PairTrack::PairTrack(std::shared_ptr<FilmSource> source, const PairPlayerSettings& settings)
    : source_(std::move(source)),
      wake_(settings.wake),
      queue_(settings.ahead_bytes),
      decoding_([this](const Decoding::Asked& asked) {
          if (asked.wish.show) show_one(asked);
          if (!asked.wish.play.empty()) play_on(asked);
      }) {}

void PairTrack::want(Wanted wanted) {
    wanted.ticket = queue_.clear();
    decoding_.ask(std::move(wanted));
}

void PairTrack::show(std::int64_t pts) {
    want({0, pts, {}});
}
void PairTrack::play(std::vector<DueRank> what) {
    at_s_ = 0;
    passed_over_ = 0;
    want({0, std::nullopt, std::move(what)});
}
void PairTrack::stop() {
    want({});
}

PairTrack::Now PairTrack::shown() {
    return decoding_.look([](Brought& brought) { return std::exchange(brought.shown, {}); });
}

std::optional<media::Picture> PairTrack::due(double at_s) {
    at_s_ = at_s;
    if (auto taken = queue_.take(at_s)) return std::move(taken->picture);
    return std::nullopt;
}

bool PairTrack::ready() {
    return queue_.next_due() || decoding_.look([](const Brought& brought) { return brought.over; });
}

Result<media::Picture> PairTrack::get(std::size_t rank) {
    const auto& pictures = source_->index().pictures;
    const std::size_t ahead = last_rank_ && rank > *last_rank_ ? rank - *last_rank_ : 0;
    if (ahead == 0 || ahead > worth_decoding_through) {
        auto picture = source_->at(pictures[rank].pts);
        last_rank_ = picture ? std::optional(rank) : std::nullopt;
        return picture;
    }
    for (std::size_t i = 0; i < ahead; ++i) {
        auto picture = source_->next();
        if (!picture || i + 1 == ahead) {
            last_rank_ = picture ? std::optional(rank) : std::nullopt;
            return picture;
        }
    }
    return Error{ErrorCode::not_found, "No picture there."};
}

void PairTrack::show_one(const Decoding::Asked& asked) {
    const auto rank = source_->index().rank_at(*asked.wish.show);
    auto picture = get(rank.value_or(0));
    const bool taken = asked.answer([&](Brought& brought) {
        if (picture)
            brought.shown.picture = std::move(*picture);
        else
            brought.shown.error = picture.error();
    });
    if (taken && wake_) wake_();
}

// A picture that cannot be read is passed over, and so are those whose time is over before they are decoded.
void PairTrack::play_on(const Decoding::Asked& asked) {
    const auto& play = asked.wish.play;
    for (std::size_t i = 0; i < play.size() && asked.still(); ++i) {
        while (i + 1 < play.size() && play[i + 1].due_s < at_s_ - late_s) ++i, ++passed_over_;
        auto picture = get(play[i].rank);
        if (!picture) continue;
        if (!queue_.put({std::move(*picture), play[i].due_s}, asked.wish.ticket, asked.stop())) return;
        if (i == 0 && wake_) wake_();
    }
    asked.answer([](Brought& brought) { brought.over = true; });
}

PairPlayer::PairPlayer(std::shared_ptr<FilmSource> now, std::shared_ptr<FilmSource> before, PairPlayerSettings settings)
    : clock_(settings.time), now_(std::move(now), settings), before_(std::move(before), settings) {}

void PairPlayer::show(std::int64_t now_pts, std::int64_t before_pts) {
    playing_ = false;
    clock_.stop();
    now_.show(now_pts);
    before_.show(before_pts);
}

void PairPlayer::play(std::vector<DueRank> now, std::vector<DueRank> before, double from_s, double to_s, double speed) {
    clock_.stop();
    playing_ = true;
    from_s_ = from_s;
    to_s_ = to_s;
    speed_ = speed;
    now_.play(std::move(now));
    before_.play(std::move(before));
}

void PairPlayer::pause() {
    if (!playing_) return;
    playing_ = false;
    clock_.stop();
    now_.stop();
    before_.stop();
}

PairPlayer::Now PairPlayer::poll() {
    Now out;
    if (!playing_) {
        PairTrack::Now now = now_.shown(), before = before_.shown();
        out.now = std::move(now.picture);
        out.before = std::move(before.picture);
        out.error = now.error ? now.error : before.error;
        return out;
    }
    // Neither film starts before the other can.
    if (!clock_.running()) {
        if (!now_.ready() || !before_.ready()) return out;
        clock_.start(0, speed_);
    }
    const double at = std::min(clock_.position(), to_s_ - from_s_);
    out.now = now_.due(at);
    out.before = before_.due(at);
    out.clock_s = from_s_ + at;
    if (at < to_s_ - from_s_) return out;
    out.ended = true;
    pause();
    return out;
}

std::optional<double> PairPlayer::next_due_in() {
    if (!playing_ || !clock_.running()) return std::nullopt;
    std::optional<double> next;
    for (const auto& due : {now_.next_due(), before_.next_due()})
        if (due && (!next || *due < *next)) next = due;
    if (!next) return std::nullopt;
    return std::max(0.0, (*next - clock_.position()) / speed_);
}

}  // namespace quarterturn::app
