#include <algorithm>
#include <cmath>

#include "app/apply.hpp"

namespace quarterturn::app {
namespace {

const Error not_kept{ErrorCode::unsupported,
                     "This clip is not in a library, so how it was filmed cannot be kept. Add it to one first."};

template <class Set>
Status change(ReviewState& state, const char* title, Set set) {
    const auto* before = state.library ? state.library->find_clip(state.clip->fingerprint) : nullptr;
    if (before == nullptr) return not_kept;
    journal::Clip after = *before;
    set(after);
    return apply(state, SetClip{std::move(after), title});
}

Status tilt(ReviewState& state, std::optional<double> tilt_deg) {
    if (tilt_deg && !(std::abs(*tilt_deg) < largest_tilt_deg))
        return Error{ErrorCode::bad_input,
                     "A film leans by less than 45 degrees; turn it by a quarter first where it lies on its side."};
    // Steps of half a degree, tenths where typed: no trail of digits in the document.
    if (tilt_deg) tilt_deg = std::round(*tilt_deg * 100) / 100 + 0.0;
    return change(state, "Tilt of the phone", [&](journal::Clip& clip) { clip.tilt_deg = tilt_deg; });
}

Status turn(ReviewState& state, std::optional<int> rotation_deg) {
    const int from = state.clip->info.rotation_deg;
    const int to = rotation_deg.value_or(state.clip->file_rotation_deg);
    return change(state, "Turn the film", [&](journal::Clip& clip) {
        clip.rotation_deg = rotation_deg;
        if (clip.athlete_at) clip.athlete_at = journal::turned(*clip.athlete_at, from, to);
    });
}

Status set_speed(ReviewState& state, double time_scale) {
    if (!(time_scale >= least_time_scale && time_scale <= largest_time_scale))
        return Error{ErrorCode::bad_input, "A film can be 100 times slower or faster than life at most."};
    return change(state, "True speed", [&](journal::Clip& clip) {
        clip.time_scale = time_scale;
        clip.speed_source = journal::SpeedSource::given;
    });
}

Status ask_for_athlete(ReviewState& state, bool on) {
    if (on && !state.clip->in_library) return not_kept;
    Desk& desk = state.desk;
    desk.tool.reset();
    desk.athlete_aim.reset();
    if (!on) return ok();
    if (state.playing.running) {
        state.playing.running = false;
        state.requests.push_back(Request::Pause{});
    }
    const auto& known = state.clip->filmed.athlete_at;
    desk.athlete_aim = known ? Spot{known->x, known->y} : Spot{0.5, 0.5};
    return ok();
}

Status show_athlete(ReviewState& state, Spot spot) {
    if (spot.x < 0 || spot.x > 1 || spot.y < 0 || spot.y > 1)
        return Error{ErrorCode::bad_input, "Press on the athlete's body in the picture."};
    if (!state.clip->index || state.clip->index->pictures.empty()) return ok();
    const journal::AthleteShown shown{state.playing.pts, state.clip->index->time_base, spot.x, spot.y};
    if (auto done = change(state, "Who the athlete is", [&](journal::Clip& clip) { clip.athlete_at = shown; }); !done)
        return done;
    state.desk.athlete_aim.reset();
    return apply(state, AnalyseClip{state.clip->fingerprint});
}

}  // namespace

Status apply_filmed(ReviewState& state, const Command& command) {
    if (const auto* c = std::get_if<ShowFilmed>(&command)) state.desk.filmed_open = c->on;
    if (const auto* c = std::get_if<TurnFilm>(&command)) return turn(state, c->rotation_deg);
    if (const auto* c = std::get_if<TiltFilm>(&command)) return tilt(state, c->tilt_deg);
    if (const auto* c = std::get_if<SetTimeScale>(&command)) return set_speed(state, c->time_scale);
    if (const auto* c = std::get_if<SetMirrored>(&command))
        return change(state, "Mirrored film", [&](journal::Clip& clip) { clip.mirrored = c->on; });
    if (const auto* c = std::get_if<AskForAthlete>(&command)) return ask_for_athlete(state, c->on);
    if (const auto* c = std::get_if<AimAtAthlete>(&command); c != nullptr && state.desk.athlete_aim)
        state.desk.athlete_aim = Spot{std::clamp(c->spot.x, 0.0, 1.0), std::clamp(c->spot.y, 0.0, 1.0)};
    if (const auto* c = std::get_if<ShowAthlete>(&command)) return show_athlete(state, c->spot);
    if (std::holds_alternative<FollowAnyone>(command))
        return change(state, "Who the athlete is", [](journal::Clip& clip) { clip.athlete_at.reset(); });
    return ok();
}

}  // namespace quarterturn::app
