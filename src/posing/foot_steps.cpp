#include "posing/foot_steps.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace quarterturn::posing {
namespace {

using body::CourseFrame;
using body::CoursePoint;
using enum body::Joint;

struct FootMarks {
    body::Joint ankle, heel, tip;
};
constexpr std::array<FootMarks, 2> marks{FootMarks{left_ankle, left_heel, left_foot_tip},
                                         FootMarks{right_ankle, right_heel, right_foot_tip}};

double seen_of(const CourseFrame& frame, std::size_t foot) {
    return frame.present ? (frame[marks[foot].ankle].seen + frame[marks[foot].heel].seen) / 2 : 0;
}

struct Sample {
    double t_s = 0;
    std::array<std::optional<double>, 2> speed;  ///< body heights per second, by foot; what is seen badly counts less
    std::array<CoursePoint, 2> place;            ///< pixels
    double height_px = 1;
};

double step_between(const CourseFrame& a, const CourseFrame& b, std::size_t foot) {
    return (body::distance(a[marks[foot].ankle], b[marks[foot].ankle]) +
            body::distance(a[marks[foot].heel], b[marks[foot].heel]) +
            body::distance(a[marks[foot].tip], b[marks[foot].tip])) /
           3;
}

std::vector<Sample> samples_of(const body::BodyCourse& course, const StepSettings& settings) {
    constexpr double longest_gap_s = 0.35;
    std::vector<Sample> out;
    const auto& frames = course.frames;
    for (std::size_t i = 0; i < frames.size(); ++i) {
        Sample sample{frames[i].t_s, {}, {}, std::max(1.0, frames[i].height_px)};
        const std::size_t from = i == 0 ? 0 : i - 1, to = std::min(i + 1, frames.size() - 1);
        const double lasted = frames[to].t_s - frames[from].t_s;
        for (std::size_t foot = 0; foot < 2; ++foot) {
            const double seen =
                std::min({seen_of(frames[from], foot), seen_of(frames[i], foot), seen_of(frames[to], foot)});
            sample.place[foot] = body::middle(frames[i][marks[foot].ankle], frames[i][marks[foot].heel]);
            if (seen < settings.seen_enough || lasted <= 0 || lasted > longest_gap_s) continue;
            const double speed = step_between(frames[from], frames[to], foot) / lasted / sample.height_px;
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
/// rest between. The sample of that rest.
std::optional<std::size_t> rest_within(const std::vector<Sample>& samples, std::size_t foot, const Run& run,
                                       const StepSettings& settings) {
    const double start = samples[run.first].t_s, end = samples[run.last].t_s;
    if (end - start < settings.one_swing_s) return std::nullopt;
    const auto speed = [&](std::size_t i) { return samples[i].speed[foot].value_or(0); };
    std::optional<std::size_t> least;
    for (std::size_t i = run.first + 1; i < run.last; ++i) {
        const double t = samples[i].t_s;
        if (t - start < settings.shortest_s || end - t < settings.shortest_s) continue;
        if (!least || speed(i) < speed(*least)) least = i;
    }
    if (!least) return std::nullopt;
    double before = 0, after = 0;
    for (std::size_t i = run.first; i < *least; ++i) before = std::max(before, speed(i));
    for (std::size_t i = *least + 1; i <= run.last; ++i) after = std::max(after, speed(i));
    constexpr double nearly_at_rest = 0.4;
    return speed(*least) < nearly_at_rest * std::min(before, after) ? least : std::nullopt;
}

std::vector<Run> each_step(const std::vector<Sample>& samples, std::size_t foot, const std::vector<Run>& runs,
                           const StepSettings& settings) {
    std::vector<Run> out;
    for (const Run& run : runs) {
        const std::optional<std::size_t> rest = rest_within(samples, foot, run, settings);
        if (rest) out.push_back({run.first, *rest});
        out.push_back({rest.value_or(run.first), run.last});
    }
    return out;
}

}  // namespace

std::vector<FootSwing> foot_swings(const body::BodyCourse& course, const StepSettings& settings) {
    const std::vector<Sample> samples = samples_of(course, settings);
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
            const double way = body::distance(from.place[foot], to.place[foot]) / from.height_px;
            const Foot which = foot == 0 ? Foot::left : Foot::right;
            const double guess = (from.t_s + to.t_s) / 2;
            out.push_back({which, from.t_s, to.t_s, step_middle(course, which, guess).value_or(guess), way});
        }
    std::sort(out.begin(), out.end(), [](const FootSwing& a, const FootSwing& b) { return a.land_s < b.land_s; });
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
