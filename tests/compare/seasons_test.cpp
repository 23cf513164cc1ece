// The two shipped seasons and routines changed in one respect, from exact truth with the network's errors of seeing.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "compare/comparison.hpp"
#include "compare/time_map.hpp"
#include "made_takes.hpp"

using namespace quarterturn;
using namespace quarterturn::compare;
using namespace quarterturn::test;

namespace {

double median(std::vector<double> values) {
    REQUIRE_FALSE(values.empty());
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2), values.end());
    return values[values.size() / 2];
}

/// The true pose on screen at a time.
std::string true_pose(const MadeTake& made, double t_s) {
    for (const auto& segment : made.truth.segments)
        if (segment.kind == sample::TrueKind::hold && t_s >= segment.start_s && t_s <= segment.end_s)
            return segment.pose;
    return "";
}

/// Where the script's movements begin and end: the same moments of the same routine.
std::vector<std::pair<double, double>> same_moments(const MadeTake& now, const MadeTake& before) {
    const sample::Timeline a(now.script), b(before.script);
    std::vector<std::pair<double, double>> moments;
    for (std::size_t i = 0; i < a.times().size(); ++i) {
        const auto &x = a.times()[i], &y = b.times()[i];
        for (int k = 0; k <= 20; ++k) {
            const double share = k / 20.0;
            moments.emplace_back(x.start_s + share * (x.arrive_s - x.start_s),
                                 y.start_s + share * (y.arrive_s - y.start_s));
            moments.emplace_back(x.arrive_s + share * (x.depart_s - x.arrive_s),
                                 y.arrive_s + share * (y.depart_s - y.arrive_s));
        }
    }
    return moments;
}

}  // namespace

TEST_CASE("every pose of the shipped seasons is paired with the same pose") {
    const std::pair<const char*, const char*> sessions[] = {
        {"this_season/2026-03-07_", "earlier_season/2025-03-08_"},
        {"this_season/2026-04-04_", "earlier_season/2025-04-12_"},
        {"this_season/2026-05-16_", "earlier_season/2025-05-10_"},
    };
    for (const auto& [now_name, before_name] : sessions) {
        std::vector<MadeTake> now, before;
        Takes now_takes, before_takes;
        for (const char* routine : {"quarter_turns", "mandatory_poses"}) {
            now.push_back(made_take(shipped_script(now_name + std::string{routine})));
            before.push_back(made_take(shipped_script(before_name + std::string{routine}), 11));
            now_takes.push_back(now.back().take);
            before_takes.push_back(before.back().take);
        }
        const auto pairing = pair_holds(now_takes, before_takes);
        std::size_t expected = 0;
        for (const auto& made : now)
            for (const auto& segment : made.truth.segments) expected += segment.kind == sample::TrueKind::hold ? 1 : 0;
        CHECK(pairing.pairs.size() == expected);
        for (const Pair& pair : pairing.pairs) {
            CAPTURE(pair.pose);
            CHECK(true_pose(now[pair.now.take], pair.now_still_s) == pair.pose);
            CHECK(true_pose(before[pair.before.take], pair.before_still_s) == pair.pose);
            CHECK(align_pair(pair, now_takes, before_takes).has_value());
        }
    }
}

TEST_CASE("the same poses from another distance and place lie over each other after alignment") {
    // True joints decide; the alignment has seen only the network's.
    for (const char* routine : {"quarter_turns", "mandatory_poses"}) {
        sample::Script near = shipped_script(std::string{"this_season/2026-05-16_"} + routine);
        sample::Script far = near;
        far.camera.distance_m = 4.4;
        far.camera.sideways_m = 0.25;
        far.camera.roll_deg = 2;
        far.film.width = 720;
        far.film.height = 1280;
        const MadeTake now = made_take(near), before = made_take(far, 12);
        const auto pairing = pair_holds({now.take}, {before.take});
        REQUIRE(pairing.pairs.size() >= 5);
        for (const Pair& pair : pairing.pairs) {
            CAPTURE(pair.pose);
            const auto alignment = align_pair(pair, {now.take}, {before.take});
            REQUIRE(alignment);
            CHECK(alignment->before_to_now.scale < 1);
            CHECK(alignment->residual_body_pct < 2);
            const auto a = true_points(now, pair.now_still_s), b = true_points(before, pair.before_still_s);
            const double height = still_body(now.take, pair.now_still_s)->height_px;
            std::vector<double> distances;
            for (const body::Joint joint : body::main_joints) {
                const auto i = static_cast<std::size_t>(joint);
                const Point put = alignment->before_to_now.apply(b[i]);
                distances.push_back(100 * std::hypot(put.x - a[i].x, put.y - a[i].y) / height);
            }
            CHECK(median(distances) <= 2);
        }
    }
}

TEST_CASE("the time map follows the same routine at another tempo") {
    std::vector<double> all;
    for (const char* name : {"this_season/2026-05-16_quarter_turns", "this_season/2026-05-16_mandatory_poses",
                             "this_season/2026-04-25_full_round"}) {
        sample::Script slow = shipped_script(name);
        const sample::Script quick = slow;
        const sample::Timeline times(slow);
        for (std::size_t i = 0; i < slow.steps.size(); ++i) {
            sample::Step& step = slow.steps[i];
            step.hold_s *= i % 2 == 0 ? 1.3 : 0.8;
            if (step.kind == sample::StepKind::pose)
                step.move_s = 1.35 * (times.times()[i].arrive_s - times.times()[i].start_s);
        }
        const MadeTake now = made_take(quick), before = made_take(slow, 12);
        const auto pairing = pair_holds({now.take}, {before.take});
        const TimeMap map = map_times({now.take}, 0, {before.take}, 0, pairing.pairs);
        std::vector<double> errors;
        for (const auto& [a, b] : same_moments(now, before)) {
            if (a < map.knots().front().now_s || a > map.knots().back().now_s) continue;
            errors.push_back(std::abs(map.before_at(a) - b));
            CHECK(std::abs(map.now_at(map.before_at(a)) - a) < 0.3);
        }
        MESSAGE(name << ": median " << median(errors) << " s, worst " << *std::max_element(errors.begin(), errors.end())
                     << " s");
        all.insert(all.end(), errors.begin(), errors.end());
        for (std::size_t k = 1; k < map.knots().size(); ++k)
            CHECK(map.knots()[k].before_s >= map.knots()[k - 1].before_s);
    }
    CHECK(median(all) <= 0.15);
}

TEST_CASE("two recordings of one routine differ nowhere by more than the error") {
    for (const char* name : {"this_season/2026-05-16_quarter_turns", "this_season/2026-05-16_mandatory_poses"}) {
        sample::Script again = shipped_script(name);
        again.camera.distance_m += 0.4;
        again.camera.sideways_m += 0.15;
        const MadeTake now = made_take(shipped_script(name)), before = made_take(again, 21);
        const Comparison comparison = compare_takes({now.take}, {before.take});
        CHECK(comparison.pairs.size() >= 5);
        CHECK(comparison.mirror.film == MirrorHint::none);
        for (const auto& pair : comparison.pairs) {
            for (const Difference& d : pair.differences) {
                if (!d.difference) continue;
                CAPTURE(pair.pair.pose);
                CAPTURE(measure_title(d.measure));
                CAPTURE(*d.difference);
                CHECK_FALSE(d.beyond_error().value_or(false));
            }
        }
    }
}

TEST_CASE("a longer hold is told, with its sign") {
    sample::Script shorter = shipped_script("this_season/2026-05-16_mandatory_poses");
    for (sample::Step& step : shorter.steps)
        if (step.kind == sample::StepKind::pose) step.hold_s -= 1.5;
    const MadeTake now = made_take(shipped_script("this_season/2026-05-16_mandatory_poses"));
    const MadeTake before = made_take(shorter, 5);
    const Comparison comparison = compare_takes({now.take}, {before.take});
    REQUIRE(comparison.pairs.size() == 5);
    for (const auto& pair : comparison.pairs) {
        const Difference& hold = pair.differences.front();
        REQUIRE(hold.measure == Measure::hold_s);
        CHECK(hold.beyond_error() == true);
        CHECK(*hold.difference == doctest::Approx(1.5).epsilon(0.25));
    }
}

TEST_CASE("an earlier film from the front camera is noticed, and fits once it is told to be mirrored") {
    const MadeTake now = made_take(shipped_script("this_season/2026-05-16_quarter_turns"));
    sample::Script script = shipped_script("earlier_season/2025-05-10_quarter_turns");
    script.camera.mirrored = true;
    const MadeTake unnoticed = made_take(script, 11, true);
    const Comparison wrong = compare_takes({now.take}, {unnoticed.take});
    CHECK(wrong.mirror.film == MirrorHint::before);
    CHECK_FALSE(wrong.mirror.reason.empty());
    REQUIRE_FALSE(wrong.warnings.empty());

    const MadeTake told = made_take(script, 11);
    const Comparison right = compare_takes({now.take}, {told.take});
    CHECK(right.mirror.film == MirrorHint::none);
    REQUIRE(right.pairs.size() == 5);
    for (const auto& pair : right.pairs) {
        REQUIRE(pair.alignment);
        CHECK_FALSE(pair.alignment->before_to_now.mirrored);
        CHECK(pair.alignment->residual_body_pct < 2);
    }
}

TEST_CASE("a pose shown to the other side is mirrored over") {
    sample::Script other = shipped_script("earlier_season/2025-05-10_mandatory_poses");
    for (sample::Step& step : other.steps)
        if (step.pose.id == "side_chest" || step.pose.id == "side_triceps") step.pose.side = "right";
    const MadeTake now = made_take(shipped_script("this_season/2026-05-16_mandatory_poses"));
    const MadeTake before = made_take(other, 13);
    const Comparison comparison = compare_takes({now.take}, {before.take});
    int mirrored = 0;
    for (const auto& pair : comparison.pairs) {
        CAPTURE(pair.pair.pose);
        REQUIRE(pair.alignment);
        const bool side = pair.pair.pose == "side_chest" || pair.pair.pose == "side_triceps";
        CHECK(pair.alignment->before_to_now.mirrored == side);
        mirrored += side ? 1 : 0;
        for (const Difference& d : pair.differences)
            if (d.measure == Measure::facing && d.difference) CHECK(std::abs(*d.difference) < 12);
    }
    CHECK(mirrored == 2);
}
