#include <algorithm>

#include "app/apply.hpp"

namespace quarterturn::app {
namespace {

// The picture on screen at `pts`: bounds that a person dragged may lie between pictures.
std::int64_t picture_at(const ReviewState& state, std::int64_t pts) {
    const auto& index = *state.clip->index;
    return index.pictures[index.rank_at(pts).value_or(0)].pts;
}

void play_from(ReviewState& state, std::int64_t pts) {
    Playing& playing = state.playing;
    if (playing.repeat && (pts < playing.repeat->start || pts >= playing.repeat->end)) pts = playing.repeat->start;
    playing.running = true;
    playing.pts = pts;
    playing.dropped = 0;
    state.desk.tool.reset();
    state.requests.push_back(Request::Play{pts, playing.speed, playing.repeat});
}

Status toggle(ReviewState& state) {
    Playing& playing = state.playing;
    if (playing.running) {
        playing.running = false;
        state.requests.push_back(Request::Pause{});
        return ok();
    }
    const auto& pictures = state.clip->index->pictures;
    const bool at_end = !pictures.empty() && playing.pts >= pictures.back().pts && !playing.repeat;
    play_from(state, at_end ? pictures.front().pts : playing.pts);
    return ok();
}

}  // namespace

void go_to(ReviewState& state, std::int64_t pts) {
    if (!state.clip || !state.clip->index || state.clip->index->pictures.empty()) return;
    const auto& index = *state.clip->index;
    pts = index.pictures[index.rank_at(pts).value_or(0)].pts;
    state.desk.ribbon = following(state.desk.ribbon, state.clip->seconds_of(pts), state.clip->duration_s());
    if (state.playing.running) {
        play_from(state, pts);
        return;
    }
    state.playing.pts = pts;
    state.requests.push_back(Request::Show{pts});
}

Status apply_playing(ReviewState& state, const Command& command) {
    if (!state.clip->index || state.clip->index->pictures.empty()) return ok();
    if (std::holds_alternative<TogglePlay>(command)) return toggle(state);
    if (const auto* seek = std::get_if<Seek>(&command)) go_to(state, seek->pts);
    if (const auto* seek = std::get_if<SeekSeconds>(&command)) go_to(state, state.clip->pts_at(seek->seconds));
    if (const auto* speed = std::get_if<SetSpeed>(&command)) {
        state.playing.speed = std::clamp(speed->speed, 0.1, 2.0);
        if (state.playing.running) play_from(state, state.playing.pts);
    }
    if (const auto* repeat = std::get_if<SetRepeat>(&command)) {
        if (repeat->range && repeat->range->end <= repeat->range->start)
            return Error{ErrorCode::bad_input, "The end of what is repeated must come after its start."};
        state.playing.repeat = repeat->range;
        if (state.playing.repeat) state.playing.repeat->start = picture_at(state, state.playing.repeat->start);
        state.playing.repeat_from.reset();
        if (state.playing.running) play_from(state, state.playing.pts);
    }
    return ok();
}

}  // namespace quarterturn::app
