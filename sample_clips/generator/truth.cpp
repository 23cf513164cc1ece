#include "truth.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "stillness.hpp"

namespace quarterturn::sample {
namespace {

constexpr double shortest_hold_s = 1.0;

bool walks(const Step& step) {
    return step.kind == StepKind::walk || step.kind == StepKind::walk_in || step.kind == StepKind::walk_out;
}

double overlap(double a0, double a1, double b0, double b1) {
    return std::min(a1, b1) - std::max(a0, b0);
}

TruePicture picture_of(const Timeline& timeline, std::int64_t pts) {
    TruePicture out;
    out.pts = pts;
    out.t_s = static_cast<double>(pts) / ticks_per_second;
    const Skeleton skeleton = timeline.at(out.t_s);
    const Camera camera = camera_at(timeline.script(), out.t_s);
    const std::array<Vec, point_count> points = points_of(timeline.bones(), skeleton);
    for (std::size_t i = 0; i < point_count; ++i) {
        const Camera::Seen seen = camera.see(points[i]);
        const bool inside =
            seen.depth > 0.05 && seen.x >= 0 && seen.y >= 0 && seen.x < camera.width && seen.y < camera.height;
        out.points[i] = {points[i], seen.x, seen.y, inside};
    }
    const Vec sight = camera.place - skeleton.pelvis;
    const double sight_yaw = std::atan2(-sight.x, sight.z);
    out.pelvis_turn_deg = degrees(line_yaw(skeleton.hip[0], skeleton.hip[1]));
    out.pelvis_yaw_deg =
        degrees(std::remainder(line_yaw(skeleton.hip[0], skeleton.hip[1]) - sight_yaw, 2 * std::numbers::pi));
    out.shoulder_yaw_deg =
        out.pelvis_yaw_deg + degrees(std::remainder(line_yaw(skeleton.shoulder[0], skeleton.shoulder[1]) -
                                                        line_yaw(skeleton.hip[0], skeleton.hip[1]),
                                                    2 * std::numbers::pi));
    const Frame still = camera_at(timeline.script(), 0).axes;
    out.pelvis_sideways_cm = 100 * dot(skeleton.pelvis, still.x);
    return out;
}

std::vector<TruePicture> pictures_of(const Timeline& timeline) {
    std::vector<TruePicture> out;
    for (const std::int64_t pts : picture_times(timeline.script(), timeline.duration_s())) {
        TruePicture picture = picture_of(timeline, pts);
        if (!out.empty()) {  // unwrap
            const double turn = std::remainder(picture.pelvis_yaw_deg - out.back().pelvis_yaw_deg, 360);
            const double shift = out.back().pelvis_yaw_deg + turn - picture.pelvis_yaw_deg;
            picture.pelvis_yaw_deg += shift;
            picture.shoulder_yaw_deg += shift;
            const double turned = std::remainder(picture.pelvis_turn_deg - out.back().pelvis_turn_deg, 360);
            picture.pelvis_turn_deg = out.back().pelvis_turn_deg + turned;
        }
        out.push_back(picture);
    }
    return out;
}

/// Script step whose kept part covers most of a stretch, if it covers half of it.
std::optional<std::size_t> step_of(const Timeline& timeline, double start_s, double end_s) {
    std::optional<std::size_t> best;
    double most = 0.5 * (end_s - start_s);
    for (const StepTimes& times : timeline.times()) {
        const double shared = overlap(start_s, end_s, times.arrive_s, times.depart_s);
        if (shared <= most || walks(timeline.script().steps[times.step])) continue;
        most = shared;
        best = times.step;
    }
    return best;
}

/// Holds and pauses in order. The parts of one hair fixing are joined: hands that tidy hair never come to rest.
std::vector<TrueSegment> kept_segments(const Timeline& timeline) {
    std::vector<TrueSegment> out;
    for (const Kept& kept : kept_postures(timeline)) {
        const std::optional<std::size_t> rank = step_of(timeline, kept.start_s, kept.end_s);
        if (!rank) continue;
        const Step& step = timeline.script().steps[*rank];
        const bool joins = step.kind == StepKind::fix_hair && !out.empty() && out.back().script_step == rank;
        if (joins) {
            out.back().end_s = kept.end_s;
            continue;
        }
        if (kept.duration_s() < shortest_hold_s && step.kind != StepKind::fix_hair) continue;
        TrueSegment segment;
        segment.kind = step.kind == StepKind::pose ? TrueKind::hold : TrueKind::pause;
        segment.start_s = kept.start_s;
        segment.end_s = kept.end_s;
        segment.script_step = rank;
        if (step.kind == StepKind::pose) {
            segment.pose = step.pose.id;
            if (has_side(step.pose.id)) segment.side = step.pose.side;
        }
        out.push_back(segment);
    }
    std::erase_if(out, [](const TrueSegment& s) { return s.duration_s() < shortest_hold_s; });
    return out;
}

/// What lies between two kept postures: walks by the script, the rest is transition.
void fill_gap(const Timeline& timeline, double from, double to, std::vector<TrueSegment>& out) {
    const auto add = [&](TrueKind kind, double start, double end, bool stage) {
        if (end - start < 0.02) return;
        TrueSegment segment;
        segment.kind = kind;
        segment.start_s = start;
        segment.end_s = end;
        segment.stage = stage;
        out.push_back(segment);
    };
    double at = from;
    for (const StepTimes& times : timeline.times()) {
        const Step& step = timeline.script().steps[times.step];
        if (!walks(step) || overlap(from, to, times.arrive_s, times.depart_s) < 0.1) continue;
        // the instant before the first foot lifts, or after the last has landed, is still the walk
        const double start = times.arrive_s - at < 0.3 ? at : times.arrive_s;
        const double end = to - times.depart_s < 0.1 ? to : times.depart_s;
        add(TrueKind::transition, at, start, false);
        add(TrueKind::walk, start, end, step.stage);
        at = end;
    }
    add(TrueKind::transition, at, to, false);
}

struct Spread {
    double mean = 0, rms = 0, range = 0;
};
template <class Get>
Spread spread_of(const std::vector<const TruePicture*>& pictures, Get get) {
    Spread out;
    if (pictures.empty()) return out;
    double low = 1e9, high = -1e9;
    for (const TruePicture* p : pictures) {
        out.mean += get(*p) / static_cast<double>(pictures.size());
        low = std::min(low, get(*p));
        high = std::max(high, get(*p));
    }
    for (const TruePicture* p : pictures)
        out.rms += std::pow(get(*p) - out.mean, 2) / static_cast<double>(pictures.size());
    out.rms = std::sqrt(out.rms);
    out.range = high - low;
    return out;
}

void measure(const Truth& truth, TrueSegment& segment) {
    std::vector<const TruePicture*> inside;
    for (const TruePicture& p : truth.pictures)
        if (p.t_s >= segment.start_s && p.t_s <= segment.end_s) inside.push_back(&p);
    for (const FootStep& step : truth.foot_steps)
        segment.steps += step.land_s > segment.start_s && step.land_s <= segment.end_s ? 1 : 0;
    if (inside.empty()) return;
    if (segment.kind == TrueKind::transition || segment.kind == TrueKind::walk) {
        segment.turn_deg = inside.back()->pelvis_turn_deg - inside.front()->pelvis_turn_deg;
        return;
    }
    const Spread yaw = spread_of(inside, [](const TruePicture& p) { return p.pelvis_yaw_deg; });
    const Spread twist = spread_of(inside, [](const TruePicture& p) { return p.shoulder_yaw_deg - p.pelvis_yaw_deg; });
    const Spread sway = spread_of(inside, [](const TruePicture& p) { return p.pelvis_sideways_cm; });
    segment.facing_deg = std::remainder(yaw.mean, 360);
    if (segment.facing_deg <= -180) segment.facing_deg += 360;
    segment.pelvis_yaw_range_deg = yaw.range;
    segment.twist_deg = twist.mean;
    segment.twist_rms_deg = twist.rms;
    segment.twist_range_deg = twist.range;
    segment.sway_rms_cm = sway.rms;
    segment.sway_peak_to_peak_cm = sway.range;
}

}  // namespace

Truth true_of(const Script& script) {
    const Timeline timeline(script);
    Truth truth;
    truth.name = script.name;
    truth.duration_s = timeline.duration_s();
    truth.pictures = pictures_of(timeline);
    truth.foot_steps = timeline.foot_steps();
    double at = 0;
    for (const TrueSegment& kept : kept_segments(timeline)) {
        fill_gap(timeline, at, kept.start_s, truth.segments);
        truth.segments.push_back(kept);
        at = kept.end_s;
    }
    fill_gap(timeline, at, truth.duration_s, truth.segments);
    for (TrueSegment& segment : truth.segments) measure(truth, segment);
    return truth;
}

Result<Truth> load_truth(const std::filesystem::path& path) {
    const Result<Script> script = load_script(path);
    if (!script) return script.error();
    return true_of(*script);
}

}  // namespace quarterturn::sample
