#include "app/player.hpp"

#include <algorithm>

namespace quarterturn::app {
namespace {

double seconds(std::int64_t from, std::int64_t to, const media::FrameIndex& index) {
    return seconds_between(from, to, index.time_base);
}

}  // namespace

Player::Player(std::shared_ptr<FilmSource> source, SoundPlayer* sound, PlayerSettings settings)
    : source_(std::move(source)),
      sound_(sound),
      settings_(std::move(settings)),
      clock_(settings_.time),
      queue_(settings_.ahead_bytes),
      decoding_([this](const Decoding::Asked& asked) {
          if (asked.wish.mode == Mode::show) show_one(asked);
          if (asked.wish.mode == Mode::play) play_on(asked);
      }) {}

void Player::want(Wanted wanted) {
    wanted.ticket = queue_.clear();
    decoding_.ask(std::move(wanted));
}

void Player::show(std::int64_t pts) {
    pause();
    want({Mode::show, pts, std::nullopt, 0});
}

void Player::play(std::int64_t from, double speed, std::optional<journal::PtsRange> repeat) {
    clock_.stop();
    playing_ = true;
    speed_ = speed;
    want({Mode::play, from, repeat, 0});
    if (sound_ == nullptr) return;
    const TimeBase base = source_->index().time_base;
    std::optional<SoundStretch> stretch;
    if (repeat)
        stretch = SoundStretch{seconds_for_display({repeat->start, base}), seconds_for_display({repeat->end, base})};
    sound_->prepare(seconds_for_display({from, base}), speed, stretch);
}

void Player::pause() {
    if (!playing_) return;
    playing_ = false;
    clock_.stop();
    if (sound_ != nullptr) sound_->pause();
    want({});
}

double Player::position() {
    return clock_.position(sound_ != nullptr ? sound_->heard() : std::nullopt);
}

Player::Now Player::poll() {
    Now now;
    const auto end_due = decoding_.look([&](Brought& brought) {
        now.picture = std::exchange(brought.shown, std::nullopt);
        now.error = std::exchange(brought.error, std::nullopt);
        return brought.end_due;
    });
    if (!playing_) return now;
    if (!clock_.running()) {
        // The clock waits for the first picture: seeking takes what it takes and costs no picture.
        if (!queue_.next_due()) {
            now.ended = end_due.has_value();
            if (now.ended) pause();
            return now;
        }
        clock_.start(0, speed_);
        if (sound_ != nullptr) sound_->go();
    }
    const double at = position();
    if (auto due = queue_.take(at)) now.picture = std::move(due->picture);
    if (end_due && at >= *end_due && !queue_.next_due()) {
        now.ended = true;
        pause();
    }
    return now;
}

std::optional<double> Player::next_due_in() {
    if (!playing_ || !clock_.running()) return std::nullopt;
    const auto next = queue_.next_due();
    if (!next) return std::nullopt;
    return std::max(0.0, (*next - position()) / speed_);
}

void Player::show_one(const Decoding::Asked& asked) {
    auto picture = source_->at(asked.wish.pts);
    const bool taken = asked.answer([&](Brought& brought) {
        if (picture)
            brought.shown = std::move(*picture);
        else
            brought.error = picture.error();
    });
    if (taken && settings_.wake) settings_.wake();
}

// Decodes ahead until something else is wanted. A picture that cannot be read is passed over.
void Player::play_on(const Decoding::Asked& asked) {
    const Wanted& wanted = asked.wish;
    const media::FrameIndex& index = source_->index();
    std::int64_t from = wanted.pts;
    double played = 0;
    auto picture = source_->at(from);
    std::int64_t last = from;
    while (asked.still()) {
        const bool over = picture && wanted.repeat && picture->pts >= wanted.repeat->end;
        if (over || (!picture && wanted.repeat)) {
            played += seconds(from, wanted.repeat->end, index);
            from = last = wanted.repeat->start;
            picture = source_->at(from);
            if (!picture) break;
        }
        if (!picture) break;
        last = picture->pts;
        const double due = played + seconds(from, picture->pts, index);
        if (!queue_.put({std::move(*picture), due}, wanted.ticket, asked.stop())) return;
        if (due == 0 && settings_.wake) settings_.wake();
        picture = source_->next();
    }
    const auto rank = index.rank_of(last);
    const bool at_end = rank && *rank + 1 == index.pictures.size();
    const double typical =
        index.pictures.size() > 1 ? index.duration_s() / static_cast<double>(index.pictures.size()) : 0;
    asked.answer([&](Brought& brought) {
        if (!picture && !at_end) brought.error = picture.error();
        brought.end_due = played + seconds(from, last, index) + typical;
    });
}

}  // namespace quarterturn::app
