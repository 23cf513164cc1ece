#include "app/filmed.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/apply.hpp"

namespace quarterturn::app {
namespace {

constexpr std::array<std::optional<int>, 5> rotations{std::nullopt, 0, 90, 180, -90};
constexpr std::array time_scales{1.0, 0.5, 0.25, 0.125};

bool looks_otherwise(const Filmed& a, const Filmed& b) {
    return a.rotation_deg != b.rotation_deg || a.time_scale != b.time_scale || a.athlete_at != b.athlete_at;
}

// The person stays at the picture and the stretch of film that she looks at.
void show_as_filmed(ReviewState& state, const Filmed& before) {
    OpenClip& clip = *state.clip;
    const Filmed& now = clip.filmed;
    const double slower = now.time_scale / before.time_scale;
    clip.time_scale = now.time_scale;
    state.desk.ribbon.start_s *= slower;
    state.desk.ribbon.length_s *= slower;
    state.desk.zooming.tilt_deg = now.tilt_deg.value_or(0);
    if (now.mirrored != before.mirrored) state.desk.zooming.mirrored = now.mirrored;
    const int rotation = now.rotation_deg.value_or(clip.file_rotation_deg);
    if (rotation == clip.info.rotation_deg) return;
    clip.info.rotation_deg = rotation;
    clip.outline.reset();
    state.desk.zooming.factor = 1;
    state.desk.zooming.centre = {0.5, 0.5};
    if (!state.playing.running) state.requests.push_back(Request::Show{state.playing.pts});
}

}  // namespace

Filmed filmed_of(const journal::Clip& clip) {
    return {clip.rotation_deg, clip.tilt_deg, clip.time_scale, clip.mirrored, clip.athlete_at, clip.session};
}

std::optional<int> next_rotation(std::optional<int> rotation_deg) {
    const auto* at = std::find(rotations.begin(), rotations.end(), rotation_deg);
    return at == rotations.end() || at + 1 == rotations.end() ? rotations.front() : *(at + 1);
}

double next_time_scale(double time_scale) {
    const auto* next =
        std::find_if(time_scales.begin(), time_scales.end(), [&](double scale) { return scale < time_scale - 1e-9; });
    return next == time_scales.end() || time_scale > 1 ? time_scales.front() : *next;
}

std::string tilt_text(std::optional<double> tilt_deg) {
    if (!tilt_deg) return "Estimated";
    if (*tilt_deg == 0) return "Level";
    return fmt::format("{:.3g}° {}", std::abs(*tilt_deg), *tilt_deg > 0 ? "clockwise" : "counter-clockwise");
}

std::string rotation_text(std::optional<int> rotation_deg) {
    if (!rotation_deg) return "As the file says";
    switch (*rotation_deg) {
        case 90:
            return "A quarter to the left";
        case 180:
            return "Upside down";
        case -90:
            return "A quarter to the right";
        default:
            return "Not turned";
    }
}

std::string time_scale_text(double time_scale) {
    if (time_scale == 1) return "As played";
    return time_scale < 1 ? fmt::format("{:.3g} times slower than life", 1 / time_scale)
                          : fmt::format("{:.3g} times faster than life", time_scale);
}

void refresh_filmed(ReviewState& state) {
    const auto* entry = state.library && state.clip ? state.library->find_clip(state.clip->fingerprint) : nullptr;
    if (entry == nullptr || filmed_of(*entry) == state.clip->filmed) return;
    OpenClip& clip = *state.clip;
    const Filmed before = std::exchange(clip.filmed, filmed_of(*entry));
    clip.session = clip.filmed.session;
    if (looks_otherwise(before, clip.filmed)) clip.joints.reset();
    clip.measured.reset();
    show_as_filmed(state, before);
    if (!state.desk.drag) refresh_spans(state);
    state.requests.push_back(Request::LookUp{clip.fingerprint});
}

}  // namespace quarterturn::app
