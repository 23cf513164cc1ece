// How well differences between two drawn films are measured, the whole way as `quarterturn compare` goes it:
//
//     comparison_bench [--cache DIR] NOW:BEFORE...      (FILM.truth.json beside each)
//
// Prints, for every measure, how far the difference found is from the true one, and how often it is within the error
// that is stated; pairs, joints after alignment and the time map as well. True differences: hold, sway and twist from
// the films' truth; widths from the bodies' planted shares; everything else only for two films of one routine (0).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "bench_films.hpp"
#include "compare/comparison.hpp"
#include "compare/time_map.hpp"
#include "kept_film.hpp"

namespace {

using namespace quarterturn;
using namespace quarterturn::bench;
using compare::Measure;

struct Errors {
    std::vector<double> off;  ///< |found - true|
    int within = 0, told = 0, invented = 0, missed_sign = 0;
};

struct Totals {
    std::map<std::string, Errors> measures;
    std::vector<double> joints_pct, time_s;
    int pairs = 0, wrong = 0, holds = 0;
};

double percentile(std::vector<double> values, double share) {
    if (values.empty()) return 0;
    std::sort(values.begin(), values.end());
    return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1) + 0.5)];
}

compare::Take take_of(const KeptFilm& film) {
    compare::Take take;
    take.name = film.path.filename().string();
    auto analysis = share::analyse_seen(film.read, film.seen, film.knowledge);
    take.course = compare::shown_course(film.seen.series, analysis.clip);
    take.analysis = std::make_shared<const posing::Analysis>(std::move(analysis));
    return take;
}

const sample::TrueSegment* true_hold(const KeptFilm& film, const posing::Segment& hold) {
    const double middle = (hold.start_s + hold.end_s) / 2;
    for (const auto& segment : film.truth.segments)
        if (segment.kind == sample::TrueKind::hold && middle >= segment.start_s && middle <= segment.end_s)
            return &segment;
    return nullptr;
}

bool same_body(const KeptFilm& a, const KeptFilm& b) {
    return a.script.body.waist == b.script.body.waist && a.script.body.shoulder == b.script.body.shoulder;
}

/// The same poses held as long, with the same planted movements: then nothing differs.
bool same_routine_in(const KeptFilm& a, const KeptFilm& b) {
    const auto& x = a.script.steps;
    return same_body(a, b) && std::equal(x.begin(), x.end(), b.script.steps.begin(), b.script.steps.end(),
                                         [](const sample::Step& p, const sample::Step& q) {
                                             return p.pose.id == q.pose.id && p.hold_s == q.hold_s &&
                                                    p.disturb.size() == q.disturb.size() &&
                                                    (p.disturb.empty() || p.disturb[0].size == q.disturb[0].size);
                                         });
}

/// What the difference should be; absent: not known.
std::optional<double> true_difference(const compare::Difference& d, const KeptFilm& now, const KeptFilm& before,
                                      const sample::TrueSegment& a, const sample::TrueSegment& b, bool same_routine) {
    switch (d.measure) {
        case Measure::hold_s:
            return a.duration_s() - b.duration_s();
        case Measure::sway_rms:
            return a.sway_rms_cm - b.sway_rms_cm;
        case Measure::twist_rms:
            return a.twist_rms_deg - b.twist_rms_deg;
        case Measure::shoulder_width:
        case Measure::waist_width: {
            if (same_body(now, before)) return 0;
            if (!d.before.value) return std::nullopt;
            const bool waist = d.measure == Measure::waist_width;
            const double share = waist ? now.script.body.waist / before.script.body.waist
                                       : now.script.body.shoulder / before.script.body.shoulder;
            return *d.before.value * (share - 1);
        }
        case Measure::hip_width:
            return 0;  // the planted bodies differ in waist and shoulders only
        default:
            return same_routine ? std::optional{0.0} : std::nullopt;
    }
}

void add_pair(const compare::Comparison& comparison, const compare::PairComparison& made, const KeptFilm& now,
              const KeptFilm& before, bool same_routine, Totals& totals) {
    const auto *a = true_hold(now, compare::hold_at(comparison.now, made.pair.now)),
               *b = true_hold(before, compare::hold_at(comparison.before, made.pair.before));
    ++totals.pairs;
    if (a == nullptr || b == nullptr || a->pose != b->pose || a->pose != made.pair.pose) {
        ++totals.wrong;
        return;
    }
    for (const auto& d : made.differences) {
        if (!d.difference) continue;
        const auto truth = true_difference(d, now, before, *a, *b, same_routine);
        if (!truth) continue;
        Errors& errors = totals.measures[compare::measure_id(d.measure, comparison.lengths)];
        errors.off.push_back(std::abs(*d.difference - *truth));
        errors.within += d.error && errors.off.back() <= *d.error ? 1 : 0;
        const bool beyond = d.beyond_error().value_or(false);
        errors.told += beyond ? 1 : 0;
        errors.invented += beyond && *truth == 0 ? 1 : 0;
        errors.missed_sign += *truth != 0 && std::signbit(*truth) != std::signbit(*d.difference) ? 1 : 0;
        if (beyond && *truth == 0)
            fmt::print("  {} {}: {:.3f}, error {:.3f}\n", made.pair.pose,
                       compare::measure_id(d.measure, comparison.lengths), *d.difference, *d.error);
    }
}

/// True joints of the earlier film, laid over by what the network's joints gave.
void add_joints(const compare::Comparison& comparison, const compare::PairComparison& made, const KeptFilm& now,
                const KeptFilm& before, Totals& totals) {
    if (!made.alignment) return;
    const auto nearest = [](const KeptFilm& film, double t_s) {
        const auto* best = &film.truth.pictures.front();
        for (const auto& picture : film.truth.pictures)
            if (std::abs(picture.t_s - t_s) < std::abs(best->t_s - t_s)) best = &picture;
        return best;
    };
    const auto *a = nearest(now, made.pair.now_still_s), *b = nearest(before, made.pair.before_still_s);
    const double height = compare::still_body(comparison.now[0], made.pair.now_still_s)->height_px;
    std::vector<double> off;
    for (const body::Joint joint : body::main_joints) {
        const auto i = static_cast<std::size_t>(joint);
        const auto put = made.alignment->before_to_now.apply({b->points[i].x_px, b->points[i].y_px});
        off.push_back(100 * std::hypot(put.x - a->points[i].x_px, put.y - a->points[i].y_px) / height);
    }
    totals.joints_pct.push_back(percentile(off, 0.5));
}

void add_times(const compare::Comparison& comparison, const KeptFilm& now, const KeptFilm& before, Totals& totals) {
    std::vector<compare::Pair> pairs;
    for (const auto& made : comparison.pairs) pairs.push_back(made.pair);
    const auto map = compare::map_times(comparison.now, 0, comparison.before, 0, pairs);
    const sample::Timeline a(now.script), b(before.script);
    for (std::size_t i = 0; i < std::min(a.times().size(), b.times().size()); ++i) {
        const auto &x = a.times()[i], &y = b.times()[i];
        // A walk that follows a hold begins at once: no turn, and none to lay over the other film's.
        if (std::min(x.arrive_s - x.start_s, y.arrive_s - y.start_s) < 0.1) continue;
        for (int k = 0; k <= 20; ++k) {
            const double share = k / 20.0;
            const double t = x.start_s + share * (x.arrive_s - x.start_s);
            if (map.knots().empty() || t < map.knots().front().now_s || t > map.knots().back().now_s) continue;
            totals.time_s.push_back(std::abs(map.before_at(t) - (y.start_s + share * (y.arrive_s - y.start_s))));
        }
    }
}

bool compare_films(const std::string& both, const KeepSettings& keep, Totals& totals) {
    const auto colon = both.find(':');
    if (colon == std::string::npos) return false;
    const auto now = kept_film(both.substr(0, colon), keep), before = kept_film(both.substr(colon + 1), keep);
    if (!now || !before) {
        fmt::print(stderr, "{}\n", (now ? before.error() : now.error()).detail);
        return false;
    }
    compare::ComparisonSettings settings;
    settings.rules = now->knowledge.rule_set;
    const auto comparison = compare::compare_takes({take_of(*now)}, {take_of(*before)}, settings);
    const bool same_routine = same_routine_in(*now, *before);
    fmt::print("{} and {}\n", now->path.filename().string(), before->path.filename().string());
    for (const auto& segment : now->truth.segments) totals.holds += segment.kind == sample::TrueKind::hold ? 1 : 0;
    for (const auto& made : comparison.pairs) {
        add_pair(comparison, made, *now, *before, same_routine, totals);
        add_joints(comparison, made, *now, *before, totals);
    }
    add_times(comparison, *now, *before, totals);
    return true;
}

}  // namespace

int main(int argc, char** argv) {
    KeepSettings keep;
    Totals totals;
    for (int i = 1; i < argc; ++i) {
        const std::string word = argv[i];
        if (word == "--cache" && i + 1 < argc)
            keep.folder = argv[++i];
        else if (!compare_films(word, keep, totals))
            return 1;
    }
    fmt::print("\n{:28} {:>4} {:>8} {:>8} {:>8}  {:>7} {:>6} {:>9} {:>10}\n", "difference off by", "n", "median",
               "95 %", "worst", "within", "told", "invented", "wrong sign");
    for (const auto& [name, errors] : totals.measures)
        fmt::print("{:28} {:4} {:8.3f} {:8.3f} {:8.3f}  {:7} {:6} {:9} {:10}\n", name, errors.off.size(),
                   percentile(errors.off, 0.5), percentile(errors.off, 0.95), percentile(errors.off, 1), errors.within,
                   errors.told, errors.invented, errors.missed_sign);
    fmt::print(
        "pairs {} of {}, wrong {}; joints after alignment median {:.2f} %, worst {:.2f} %; time map in turns median "
        "{:.3f} s, 95 % {:.3f} s, worst {:.3f} s\n",
        totals.pairs, totals.holds, totals.wrong, percentile(totals.joints_pct, 0.5), percentile(totals.joints_pct, 1),
        percentile(totals.time_s, 0.5), percentile(totals.time_s, 0.95), percentile(totals.time_s, 1));
    return 0;
}
