#include "posing/foot_steps.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace quarterturn::posing {
namespace {

using body::CourseFrame;
using enum body::Joint;

double seen_of(const CourseFrame& frame, std::size_t foot) {
    const body::Joint ankle = foot == 0 ? left_ankle : right_ankle, heel = foot == 0 ? left_heel : right_heel;
    return frame.present ? (frame[ankle].seen + frame[heel].seen) / 2 : 0;
}

struct Sample {
    double t_s = 0;
    std::array<std::optional<double>, 2> speed;  ///< body heights per second, by foot; what is seen badly counts less
    std::array<body::Point, 2> place;            ///< pixels, between ankle and heel
    double height_px = 1;
};

constexpr double untold_error_s = 0.03;  // of a middle that is taken from the speeds

using BothFeet = std::array<std::vector<FootPlace>, 2>;

double step_between(const FootPlace& a, const FootPlace& b) {
    double sum = 0;
    for (std::size_t i = 0; i < a.marks.size(); ++i)
        sum += std::hypot(a.marks[i].x - b.marks[i].x, a.marks[i].y - b.marks[i].y);
    return sum / static_cast<double>(a.marks.size());
}

std::vector<Sample> samples_of(const BothFeet& feet, const StepSettings& settings) {
    constexpr double longest_gap_s = 0.35;
    std::vector<Sample> out;
    for (std::size_t i = 0; i < feet[0].size(); ++i) {
        Sample sample{feet[0][i].t_s, {}, {}, feet[0][i].height_px};
        const std::size_t from = i == 0 ? 0 : i - 1, to = std::min(i + 1, feet[0].size() - 1);
        const double lasted = feet[0][to].t_s - feet[0][from].t_s;
        for (std::size_t foot = 0; foot < 2; ++foot) {
            const std::vector<FootPlace>& places = feet[foot];
            const auto& marks = places[i].marks;
            sample.place[foot] = {(marks[0].x + marks[1].x) / 2, (marks[0].y + marks[1].y) / 2};
            const double seen = std::min({places[from].seen, places[i].seen, places[to].seen});
            if (seen < settings.seen_enough || lasted <= 0 || lasted > longest_gap_s) continue;
            const double speed = step_between(places[from], places[to]) / lasted / sample.height_px;
            sample.speed[foot] = speed * std::min(1.0, 0.4 + 0.6 * seen);
        }
        out.push_back(sample);
    }
    return out;
}

/// Mean speed over the window around each sample.
std::vector<std::optional<double>> steadied(const std::vector<Sample>& samples, std::size_t foot, double window_s) {
    std::vector<std::optional<double>> out(samples.size());
    std::size_t first = 0;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        while (samples[first].t_s < samples[i].t_s - window_s) ++first;
        double sum = 0;
        int count = 0;
        for (std::size_t k = first; k < samples.size() && samples[k].t_s <= samples[i].t_s + window_s; ++k) {
            if (!samples[k].speed[foot]) continue;
            sum += *samples[k].speed[foot];
            ++count;
        }
        if (count > 0 && samples[i].speed[foot]) out[i] = sum / count;
    }
    return out;
}

struct Run {
    std::size_t first, last;
};

/// Runs of samples in which `own` is the foot that swings.
std::vector<Run> swinging(const std::vector<Sample>& samples, const std::vector<std::optional<double>>& own,
                          const std::vector<std::optional<double>>& other, const StepSettings& settings) {
    std::vector<Run> runs;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        if (!own[i] || *own[i] < settings.lift_speed || *own[i] < settings.faster * other[i].value_or(0)) continue;
        const bool joins = !runs.empty() && samples[i].t_s - samples[runs.back().last].t_s <= settings.same_step_s;
        if (joins)
            runs.back().last = i;
        else
            runs.push_back({i, i});
    }
    return runs;
}

/// One foot may step twice in a row, as from the last step of a walk into a turn: too long for one swing, and nearly at
/// rest between. The sample of that rest, not so near the ends that one side of it were no step.
std::optional<std::size_t> rest_within(const std::vector<Sample>& samples, std::size_t foot, const Run& run,
                                       const StepSettings& settings) {
    const double start = samples[run.first].t_s, end = samples[run.last].t_s;
    if (end - start < settings.one_swing_s) return std::nullopt;
    const auto speed = [&](std::size_t i) { return samples[i].speed[foot].value_or(0); };
    std::optional<std::size_t> least;
    for (std::size_t i = run.first + 1; i < run.last; ++i) {
        const double t = samples[i].t_s;
        if (t - start < settings.least_part_s || end - t < settings.least_part_s) continue;
        if (!least || speed(i) < speed(*least)) least = i;
    }
    if (!least) return std::nullopt;
    double before = 0, after = 0;
    for (std::size_t i = run.first; i < *least; ++i) before = std::max(before, speed(i));
    for (std::size_t i = *least + 1; i <= run.last; ++i) after = std::max(after, speed(i));
    constexpr double nearly_at_rest = 0.5;
    return speed(*least) < nearly_at_rest * std::min(before, after) ? least : std::nullopt;
}

std::vector<Run> each_step(const std::vector<Sample>& samples, std::size_t foot, std::vector<Run> runs,
                           const StepSettings& settings) {
    std::vector<Run> out;
    while (!runs.empty()) {
        const Run run = runs.back();
        runs.pop_back();
        const std::optional<std::size_t> rest = rest_within(samples, foot, run, settings);
        if (rest) {
            runs.push_back({run.first, *rest});
            runs.push_back({*rest, run.last});
        } else {
            out.push_back(run);
        }
    }
    return out;
}

/// Usual length of the steps about one: the median of those that go as far, nearly, as the longest of them.
std::optional<UsualLength> usual_length(const std::vector<FootSwing>& swings, const std::vector<StepTime>& times,
                                        const FootSwing& about) {
    constexpr double reach_s = 1.7, share_of_longest = 0.36;
    constexpr std::size_t enough = 3;
    double longest = 0;
    const auto near = [&](const FootSwing& swing) { return std::abs(swing.middle_s - about.middle_s) <= reach_s; };
    for (const FootSwing& swing : swings)
        if (near(swing)) longest = std::max(longest, swing.way);
    std::vector<double> lengths;
    for (std::size_t i = 0; i < swings.size(); ++i)
        if (near(swings[i]) && swings[i].way >= share_of_longest * longest) lengths.push_back(times[i].length_s);
    if (about.way < share_of_longest * longest || lengths.size() < enough) return std::nullopt;
    const auto half = lengths.begin() + static_cast<std::ptrdiff_t>(lengths.size() / 2);
    std::nth_element(lengths.begin(), half, lengths.end());
    constexpr double spread_s = 0.03;
    return UsualLength{*half, spread_s};
}

/// The steps of a walk take about as long as each other: what one of them leaves open the others tell.
void time_together(std::vector<FootSwing>& swings, const BothFeet& feet) {
    std::vector<StepTime> times;
    for (FootSwing& swing : swings) {
        const double guess = (swing.lift_s + swing.land_s) / 2;
        const std::vector<FootPlace>& places = feet[swing.foot == Foot::left ? 0 : 1];
        times.push_back(step_time(places, guess).value_or(StepTime{guess, 0, untold_error_s}));
        swing.middle_s = times.back().middle_s;
        swing.error_s = times.back().error_s;
    }
    const std::vector<FootSwing> alone = swings;
    for (std::size_t i = 0; i < swings.size(); ++i) {
        const std::optional<UsualLength> usual = usual_length(alone, times, alone[i]);
        if (!usual || times[i].length_s <= 0) continue;
        const std::vector<FootPlace>& places = feet[swings[i].foot == Foot::left ? 0 : 1];
        const auto again = step_time(places, (swings[i].lift_s + swings[i].land_s) / 2, *usual);
        if (!again) continue;
        swings[i].middle_s = again->middle_s;
        swings[i].error_s = again->error_s;
    }
}

}  // namespace

std::vector<FootSwing> foot_swings(const body::BodyCourse& course, const StepSettings& settings) {
    const BothFeet feet{foot_places(course, Foot::left), foot_places(course, Foot::right)};
    const std::vector<Sample> samples = samples_of(feet, settings);
    const std::array<std::vector<std::optional<double>>, 2> speeds{steadied(samples, 0, settings.window_s),
                                                                   steadied(samples, 1, settings.window_s)};
    std::vector<FootSwing> out;
    for (std::size_t foot = 0; foot < 2; ++foot)
        for (const Run& run :
             each_step(samples, foot, swinging(samples, speeds[foot], speeds[1 - foot], settings), settings)) {
            const Sample& from = samples[run.first];
            const Sample& to = samples[run.last];
            const double lasted = to.t_s - from.t_s;
            if (lasted < settings.shortest_s || lasted > settings.longest_s) continue;
            const body::Point &lifted = from.place[foot], &landed = to.place[foot];
            const double way = std::hypot(landed.x - lifted.x, landed.y - lifted.y) / from.height_px;
            out.push_back({foot == 0 ? Foot::left : Foot::right, from.t_s, to.t_s, 0, 0, way});
        }
    std::sort(out.begin(), out.end(), [](const FootSwing& a, const FootSwing& b) { return a.land_s < b.land_s; });
    time_together(out, feet);
    return out;
}

std::vector<FootSwing> landings_in(std::span<const FootSwing> swings, const Stretch& stretch) {
    std::vector<FootSwing> out;
    for (const FootSwing& swing : swings)
        if (swing.land_s > stretch.start_s && swing.land_s <= stretch.end_s) out.push_back(swing);
    return out;
}

double feet_seen(const body::BodyCourse& course, const Stretch& stretch, const StepSettings& settings) {
    int pictures = 0, seen = 0;
    for (const CourseFrame& frame : course.frames) {
        if (frame.t_s < stretch.start_s || frame.t_s > stretch.end_s) continue;
        ++pictures;
        seen += std::min(seen_of(frame, 0), seen_of(frame, 1)) >= settings.seen_enough ? 1 : 0;
    }
    return pictures > 0 ? static_cast<double>(seen) / pictures : 0;
}

}  // namespace quarterturn::posing
