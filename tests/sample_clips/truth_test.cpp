#include "truth.hpp"

#include <doctest.h>

#include <cmath>

#include "routine.hpp"

using namespace quarterturn;
using namespace quarterturn::sample;

TEST_CASE("quarter turns come out in call order, with the planned hold times") {
    const Truth truth = true_of(script_of(quarter_turns));
    const std::vector<TrueSegment> holds = only(truth, TrueKind::hold);
    REQUIRE(holds.size() == 5);
    // front, left side to the judges, back, right side, front: what turning to the own right shows
    const std::array<const char*, 5> poses{"quarter_front", "quarter_left_side", "quarter_back", "quarter_right_side",
                                           "quarter_front"};
    const std::array<double, 5> facing{0, 90, 180, -90, 0}, planned{3, 2.5, 2, 2.2, 2.8};
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(holds[i].pose == poses[i]);
        CHECK(std::abs(std::remainder(holds[i].facing_deg - facing[i], 360)) < 3);
        // the soft ends of the movements in and out are below the limit for at most about a tenth of a second each
        CHECK(holds[i].duration_s() > planned[i] - 0.05);
        CHECK(holds[i].duration_s() < planned[i] + 0.25);
    }
    REQUIRE(only(truth, TrueKind::pause).size() == 1);
    const std::vector<TrueSegment> walks = only(truth, TrueKind::walk);
    REQUIRE(walks.size() == 2);
    CHECK_FALSE(walks[0].stage);
}

TEST_CASE("segments follow each other without gap or overlap from start to end") {
    const Truth truth = true_of(script_of(quarter_turns));
    double at = 0;
    for (const TrueSegment& segment : truth.segments) {
        CHECK(segment.start_s == doctest::Approx(at).epsilon(1e-9));
        CHECK(segment.end_s > segment.start_s);
        at = segment.end_s;
    }
    CHECK(at == doctest::Approx(truth.duration_s));
}

TEST_CASE("each quarter turn turns ninety degrees to the right with the planned steps") {
    const Truth truth = true_of(script_of(quarter_turns));
    std::vector<TrueSegment> turns;
    for (const TrueSegment& t : only(truth, TrueKind::transition))
        if (t.turn_deg > 60 && t.turn_deg < 120) turns.push_back(t);
    REQUIRE(turns.size() == 4);
    for (const TrueSegment& t : turns) {
        CHECK(t.turn_deg == doctest::Approx(90).epsilon(0.04));  // the definition cuts the slow ends
        CHECK(t.steps == 2);
    }
}

TEST_CASE("a planted sway is found again in the true pelvis") {
    // mean square of a sine over whole periods is half its amplitude squared; the soft ramps take away a little
    const Truth truth = true_of(
        script_of(R"({"do":"pose","pose":"quarter_front","hold_s":20,"disturb":[{"kind":"sway","cm":2,"hz":0.5}]})"));
    const std::vector<TrueSegment> holds = only(truth, TrueKind::hold);
    REQUIRE(holds.size() == 1);
    CHECK(holds[0].sway_rms_cm == doctest::Approx(2 / std::sqrt(2.0)).epsilon(0.05));
    CHECK(holds[0].sway_peak_to_peak_cm == doctest::Approx(4).epsilon(0.02));
    CHECK(holds[0].twist_range_deg < 0.2);
}

TEST_CASE("a planted twist turns the shoulders and not the pelvis") {
    const Truth truth = true_of(
        script_of(R"({"do":"pose","pose":"quarter_back","hold_s":20,"disturb":[{"kind":"twist","deg":6,"hz":0.4}]})"));
    const std::vector<TrueSegment> holds = only(truth, TrueKind::hold);
    REQUIRE(holds.size() == 1);  // it comes back, so it belongs to the hold
    CHECK(holds[0].twist_rms_deg == doctest::Approx(6 / std::sqrt(2.0)).epsilon(0.06));
    CHECK(holds[0].pelvis_yaw_range_deg < 0.1);
    CHECK(holds[0].sway_rms_cm < 0.01);
}

TEST_CASE("a turn of the whole trunk moves shoulders and pelvis together") {
    const Truth truth = true_of(
        script_of(R"({"do":"pose","pose":"quarter_front","hold_s":12,"disturb":[{"kind":"turn","deg":5,"hz":0.3}]})"));
    const std::vector<TrueSegment> holds = only(truth, TrueKind::hold);
    REQUIRE(holds.size() == 1);
    CHECK(holds[0].pelvis_yaw_range_deg == doctest::Approx(10).epsilon(0.03));
    CHECK(holds[0].twist_range_deg < 0.1);
}

TEST_CASE("a relaxed stand and fixing the hair are pauses between two holds") {
    const Truth truth = true_of(script_of(
        R"({"do":"pose","pose":"quarter_front","hold_s":3},{"do":"stand","hold_s":2},{"do":"pose","pose":"quarter_front","hold_s":3},)"
        R"({"do":"fix_hair","hold_s":3,"disturb":[{"kind":"fidget_hand","cm":3,"arm":"both"}]},{"do":"pose","pose":"quarter_front","hold_s":3})"));
    std::string kinds;
    for (const TrueSegment& s : truth.segments)
        if (s.kind == TrueKind::hold || s.kind == TrueKind::pause) kinds += s.kind == TrueKind::hold ? 'h' : 'p';
    CHECK(kinds == "hphph");
}

TEST_CASE("feet stay where they stand between their steps") {
    const Script script = script_of(quarter_turns);
    const Timeline timeline(script);
    for (std::size_t foot = 0; foot < 2; ++foot) {
        std::vector<const FootStep*> own;
        for (const FootStep& step : timeline.foot_steps())
            if (step.foot == static_cast<int>(foot)) own.push_back(&step);
        REQUIRE(own.size() > 5);
        for (std::size_t k = 0; k + 1 < own.size(); ++k) {
            const Vec landed = timeline.at(own[k]->land_s).ball[foot];
            for (double t = own[k]->land_s; t < own[k + 1]->lift_s; t += 0.05)
                CHECK(length(timeline.at(t).ball[foot] - landed) < 1e-6);
        }
    }
}

TEST_CASE("bones keep their lengths and no joint jumps") {
    const Script script = script_of(
        quarter_turns + R"(,{"do":"pose","pose":"side_chest"},{"do":"pose","pose":"side_triceps","side":"right"})");
    const Timeline timeline(script);
    const Bones bones = timeline.bones();
    Skeleton before = timeline.at(0);
    for (double t = 1 / 60.0; t < timeline.duration_s(); t += 1 / 60.0) {
        const Skeleton now = timeline.at(t);
        for (std::size_t i = 0; i < 2; ++i) {
            REQUIRE(length(now.elbow[i] - now.shoulder[i]) == doctest::Approx(bones.upper_arm));
            REQUIRE(length(now.wrist[i] - now.elbow[i]) == doctest::Approx(bones.forearm));
            REQUIRE(length(now.knee[i] - now.hip[i]) == doctest::Approx(bones.thigh));
            REQUIRE(length(now.ankle[i] - now.knee[i]) == doctest::Approx(bones.shank).epsilon(0.005));
            // the quickest part is a walking foot or a raised hand: a few metres per second
            REQUIRE(length(now.wrist[i] - before.wrist[i]) < 5.0 / 60);
            REQUIRE(length(now.knee[i] - before.knee[i]) < 4.0 / 60);
            REQUIRE(length(now.ankle[i] - before.ankle[i]) < 5.0 / 60);
        }
        before = now;
    }
}

TEST_CASE("the skeleton has the proportions of the published segment table") {
    // Drillis and Contini 1966, as printed in Winter, Biomechanics and Motor Control of Human Movement (from memory)
    BodyShape shape;
    shape.height_m = 1.7;
    const Bones b = bones_of(shape);
    CHECK(b.upper_arm / 1.7 == doctest::Approx(0.186));
    CHECK(b.forearm / 1.7 == doctest::Approx(0.146));
    CHECK(b.thigh / 1.7 == doctest::Approx(0.245));
    CHECK(b.shank / 1.7 == doctest::Approx(0.246));
    CHECK((b.ankle_up + b.shank + b.thigh) / 1.7 == doctest::Approx(0.530));
    CHECK((b.ankle_up + b.shank + b.thigh + b.hip_to_waist + b.waist_to_shoulder) / 1.7 == doctest::Approx(0.818));
    CHECK((b.ankle_to_heel + b.ankle_to_ball + b.ball_to_tip) / 1.7 == doctest::Approx(0.152));
}

TEST_CASE("a variable rate keeps pictures in order and irregular") {
    Script script = script_of(quarter_turns, R"("film":{"jitter":0.4},)");
    const Truth truth = true_of(script);
    std::int64_t shortest = 1 << 30, longest = 0;
    for (std::size_t i = 1; i < truth.pictures.size(); ++i) {
        const std::int64_t step = truth.pictures[i].pts - truth.pictures[i - 1].pts;
        shortest = std::min(shortest, step);
        longest = std::max(longest, step);
    }
    CHECK(shortest > 0);
    CHECK(longest > 2 * shortest);
}

TEST_CASE("a mirrored film swaps left and right in the picture only") {
    const Truth plain = true_of(script_of(quarter_turns));
    const Truth mirrored = true_of(script_of(quarter_turns, R"("camera":{"mirrored":true},)"));
    REQUIRE(plain.pictures.size() == mirrored.pictures.size());
    const std::size_t i = plain.pictures.size() / 2;
    CHECK(mirrored.pictures[i].points[11].x_px == doctest::Approx(432 - plain.pictures[i].points[11].x_px));
    CHECK(mirrored.pictures[i].points[11].m.x == doctest::Approx(plain.pictures[i].points[11].m.x));
    CHECK(only(mirrored, TrueKind::hold).at(1).facing_deg ==
          doctest::Approx(only(plain, TrueKind::hold).at(1).facing_deg));
}

TEST_CASE("a last swing whose far end was passed slowly before belongs to the hold") {
    const auto truth = load_truth(std::filesystem::path(QUARTERTURN_SOURCE_DIR) /
                                  "sample_clips/scripts/held_out_second/routine_01.json");
    REQUIRE(truth);
    const TrueSegment first = only(*truth, TrueKind::hold).front();
    // Its twist comes back through the limit of speed at 15.5 s; the pelvis turns to the next pose at 16.3 s.
    CHECK(first.pose == "quarter_front");
    CHECK(first.end_s == doctest::Approx(16.32).epsilon(0.003));
}
