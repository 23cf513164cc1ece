// What keys mean on the page with two takes.
#include <algorithm>
#include <array>
#include <cmath>

#include "app/apply.hpp"

namespace quarterturn::app {
namespace {

using namespace pairing;

constexpr std::array speeds{0.1, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0};

[[gnu::noinline]] Commands only(Any what) {
    Commands commands;
    commands.emplace_back(PairCommand{std::move(what)});
    return commands;
}

double picture_s(const PairDesk& desk) {
    const auto& index = *desk.films->before_index;
    return desk.before_clip().time_scale * index.duration_s() /
           static_cast<double>(std::max<std::size_t>(1, index.pictures.size()));
}

Commands other_pair(const PairDesk& desk, int by) {
    if (!desk.made || desk.made->made.pairs.empty()) return {};
    const auto last = static_cast<std::ptrdiff_t>(desk.made->made.pairs.size()) - 1;
    const auto to = std::clamp(static_cast<std::ptrdiff_t>(desk.pair) + by, std::ptrdiff_t{0}, last);
    return only(Choose{static_cast<std::size_t>(to)});
}

Commands change_speed(const PairDesk& desk, bool faster) {
    if (faster) {
        const auto* found = std::find_if(speeds.begin(), speeds.end(), [&](double s) { return s > desk.speed + 1e-6; });
        return found == speeds.end() ? Commands{} : only(pairing::SetSpeed{*found});
    }
    for (auto speed = speeds.rbegin(); speed != speeds.rend(); ++speed)
        if (*speed < desk.speed - 1e-6) return only(pairing::SetSpeed{*speed});
    return {};
}

Commands amount(const PairDesk& desk, double by) {
    if (desk.look == PairLook::edge) return only(SetEdge{desk.edge - by});
    return only(SetOpacity{desk.opacity + by});
}

Commands unpin_nearest(const ReviewState& state) {
    const PairDesk& desk = state.pair;
    if (!desk.films || !state.library) return {};
    const journal::Pin* nearest = nullptr;
    double best = 1e9;
    for (const journal::Pin* pin : moment_pins(*state.library, desk)) {
        const double off = std::abs(compare::seconds_of(desk.now_clip(), *pin->now.at) - desk.clock_s);
        if (off < best) best = off, nearest = pin;
    }
    return nearest != nullptr ? only(Unpin{nearest->id}) : Commands{};
}

Commands leave(const ReviewState& state) {
    Commands commands;
    if (state.pair.choosing) return only(ShowSessions{false});
    if (state.pair.choosing_hold) return only(ShowHolds{});
    if (state.desk.full_screen)
        commands.emplace_back(SetFullScreen{false});
    else
        commands.emplace_back(GoTo{state.clip ? Place::clip : Place::library});
    return commands;
}

Commands zoom(const PairDesk& desk, double by) {
    Zooming zooming = desk.zooming;
    zooming.factor = std::clamp(zooming.factor * by, 1.0, 16.0);
    if (zooming.factor == 1) zooming.centre = {0.5, 0.5};
    return only(pairing::SetZooming{zooming});
}

Commands looking(const PairDesk& desk, Action action) {
    switch (action) {
        case Action::look_beside:
            return only(SetLook{PairLook::beside});
        case Action::look_over:
            return only(SetLook{PairLook::over});
        case Action::look_edge:
            return only(SetLook{PairLook::edge});
        case Action::look_outline:
            return only(SetLook{PairLook::outline});
        case Action::look_blink:
            return only(SetLook{PairLook::blink});
        case Action::look_more:
            return amount(desk, 0.05);
        case Action::look_less:
            return amount(desk, -0.05);
        case Action::align_pictures:
            return only(SetAligned{!desk.aligned});
        case Action::match_light:
            return only(SetLight{!desk.match_light});
        case Action::mirror: {
            Zooming zooming = desk.zooming;
            zooming.mirrored = !zooming.mirrored;
            return only(pairing::SetZooming{zooming});
        }
        case Action::zoom_in:
            return zoom(desk, 1.25);
        case Action::zoom_out:
            return zoom(desk, 0.8);
        case Action::zoom_whole:
            return only(pairing::SetZooming{{1, {0.5, 0.5}, desk.zooming.mirrored}});
        default:
            return {};
    }
}

Commands timing(const PairDesk& desk, Action action) {
    switch (action) {
        case Action::play_or_pause:
            return only(pairing::TogglePlay{});
        case Action::next_picture:
            return only(Step{1});
        case Action::previous_picture:
            return only(Step{-1});
        case Action::one_second_on:
            return only(pairing::Seek{desk.clock_s + 1});
        case Action::one_second_back:
            return only(pairing::Seek{desk.clock_s - 1});
        case Action::to_start:
            return only(pairing::Seek{0});
        case Action::to_end:
            return only(pairing::Seek{desk.duration_s()});
        case Action::slower:
            return change_speed(desk, false);
        case Action::faster:
            return change_speed(desk, true);
        case Action::normal_speed:
            return only(pairing::SetSpeed{1});
        case Action::change_sync:
            return only(SetSync{desk.sync == compare::SyncMode::by_pose ? compare::SyncMode::by_warped_time
                                                                        : compare::SyncMode::by_pose});
        case Action::earlier_sooner:
            return only(ShiftBy{0, -picture_s(desk)});
        case Action::earlier_later:
            return only(ShiftBy{0, picture_s(desk)});
        case Action::offsets_off:
            return only(OffsetsOff{});
        case Action::pin_together:
            return only(PinTogether{});
        default:
            return {};
    }
}

}  // namespace

Commands pair_commands_for(const ReviewState& state, Action action) {
    const PairDesk& desk = state.pair;
    switch (action) {
        case Action::leave:
            return leave(state);
        case Action::full_screen: {
            Commands commands;
            commands.emplace_back(SetFullScreen{!state.desk.full_screen});
            return commands;
        }
        case Action::choose_session:
            return only(ShowSessions{!desk.choosing});
        case Action::next_hold:
            return other_pair(desk, 1);
        case Action::previous_hold:
            return other_pair(desk, -1);
        case Action::next_counterpart:
            return only(NextCounterpart{});
        case Action::no_counterpart:
            if (desk.chosen() == nullptr) return {};
            return only(SetCounterpart{desk.chosen()->pair.now, std::nullopt});
        case Action::turn_mirrored_film:
            return only(TurnMirroredFilm{});
        case Action::unpin_moment:
            return unpin_nearest(state);
        default:
            break;
    }
    if (Commands commands = looking(desk, action); !commands.empty()) return commands;
    return desk.films ? timing(desk, action) : Commands{};
}

}  // namespace quarterturn::app
