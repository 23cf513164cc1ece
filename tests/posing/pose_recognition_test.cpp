#include "posing/pose_recognition.hpp"

#include <doctest/doctest.h>

#include "posing/pose_templates.hpp"

using namespace quarterturn::posing;

namespace {

constexpr std::size_t at(Feature feature) {
    return static_cast<std::size_t>(feature);
}

/// The middle of everything the template expects.
PoseFeatures typical(std::string_view pose, double facing_deg) {
    PoseFeatures out;
    out.pictures = 30;
    out.facing_deg = facing_deg;
    for (const PoseTemplate& known : pose_templates()) {
        if (known.pose != pose) continue;
        for (const Expected& expected : known.expected)
            out.values[at(expected.feature)] = SeenFeature{(expected.low + expected.high) / 2, 1};
        return out;
    }
    return out;
}

PoseFeatures neither(const std::string& a, const std::string& b, double facing_deg) {
    PoseFeatures out = typical(a, facing_deg);
    const PoseFeatures other = typical(b, facing_deg);
    for (std::size_t i = 0; i < feature_count; ++i)
        if (out.values[i] && other.values[i])
            out.values[i]->value = (out.values[i]->value + other.values[i]->value) / 2;
    return out;
}

const std::vector<std::string> order{"front_double_biceps", "side_chest", "back_double_biceps"};
const std::vector<double> long_enough{4, 4, 4};

}  // namespace

TEST_CASE("what a template expects is recognised by the body alone") {
    const std::vector<std::pair<std::string, double>> poses{{"front_double_biceps", 0},   {"back_double_biceps", 180},
                                                            {"front_lat_spread", 5},      {"side_triceps", -90},
                                                            {"abdominals_and_thighs", 0}, {"most_muscular", 0},
                                                            {"quarter_left_side", 90},    {"quarter_right_side", -90}};
    for (const auto& [pose, facing] : poses) {
        CAPTURE(pose);
        const std::vector<PoseFeatures> holds{typical(pose, facing)};
        const auto found = recognise(holds, std::vector<double>{4}, {});
        CHECK(found[0].pose == pose);
        CHECK(found[0].source == PoseSource::body);
        CHECK(found[0].confidence > 0.6);
    }
}

TEST_CASE("the side to the judges is told where the pose allows either") {
    const std::vector<PoseFeatures> holds{typical("side_chest", 85), typical("side_chest", -80)};
    const auto found = recognise(holds, std::vector<double>{4, 4}, {});
    CHECK(found[0].side == "left");
    CHECK(found[1].side == "right");
}

TEST_CASE("poses called in another order keep their names") {
    const std::vector<PoseFeatures> holds{typical("back_double_biceps", 180), typical("side_chest", 90),
                                          typical("front_double_biceps", 0)};
    const auto found = recognise(holds, long_enough, order);
    CHECK(found[0].pose == "back_double_biceps");
    CHECK(found[1].pose == "side_chest");
    CHECK(found[2].pose == "front_double_biceps");
}

TEST_CASE("the order settles what the body leaves open, and says so") {
    const std::vector<PoseFeatures> holds{typical("front_double_biceps", 0), neither("side_chest", "side_triceps", 90),
                                          typical("back_double_biceps", 180)};
    const auto found = recognise(holds, long_enough, order);
    CHECK(found[1].pose == "side_chest");
    if (found[1].source == PoseSource::order) CHECK(found[1].confidence <= 0.5);
}

TEST_CASE("a posture like no pose is not named, with a reason") {
    PoseFeatures odd = typical("front_double_biceps", 0);
    for (auto& value : odd.values)
        if (value) value->value += 0.5;
    odd.values[at(Feature::straighter_elbow)] = SeenFeature{0, 1};
    const auto found = recognise(std::vector<PoseFeatures>{odd}, std::vector<double>{4}, {});
    CHECK_FALSE(found[0].pose);
    CHECK_FALSE(found[0].pause);
    CHECK(found[0].reason == "the posture is like none of the known poses");
}

TEST_CASE("shares of all templates and of none of them add up to one") {
    double sum = 0;
    for (const double share : shares_of(typical("vacuum", 0))) sum += share;
    CHECK(sum == doctest::Approx(1));
}

namespace {

/// Both hands behind the head, told apart by the rest: medians of a hold.
struct HandsUp {
    double busy, head_down, foot_ahead, hip_shift, heels_apart;
};
PoseFeatures behind_head(const HandsUp& seen) {
    PoseFeatures out;
    out.pictures = 40;
    out.facing_deg = 0;
    const auto put = [&](Feature f, double value) { out.values[at(f)] = SeenFeature{value, 0.9}; };
    for (const Feature f : {Feature::higher_elbow, Feature::lower_elbow}) put(f, 0.16);
    for (const Feature f : {Feature::higher_wrist, Feature::lower_wrist}) put(f, 0.135);
    for (const Feature f : {Feature::wider_wrist, Feature::narrower_wrist}) put(f, -0.042);
    for (const Feature f : {Feature::wider_elbow, Feature::narrower_elbow}) put(f, 0.09);
    put(Feature::straighter_elbow, 45);
    put(Feature::more_bent_elbow, 45);
    put(Feature::hands_from_head, 0.05);
    put(Feature::wrists_differ, 0.003);
    put(Feature::hands_busy, seen.busy);
    put(Feature::head_down, seen.head_down);
    put(Feature::foot_ahead, seen.foot_ahead);
    put(Feature::hip_shift, seen.hip_shift);
    put(Feature::heels_apart, seen.heels_apart);
    return out;
}

Recognised alone(const PoseFeatures& features) {
    return recognise(std::vector<PoseFeatures>{features}, std::vector<double>{4}, {})[0];
}

}  // namespace

TEST_CASE("hands in the hair that hardly move are a pause by how she stands") {
    CHECK(alone(behind_head({0.010, 0.0054, 0.008, 0.0068, 0.08})).pause);
    CHECK(alone(behind_head({0.017, 0.0050, 0.0046, 0.010, 0.06})).pause);
}

TEST_CASE("a vacuum with hands that tremble is a vacuum") {
    CHECK(alone(behind_head({0.018, -0.0009, 0.0011, 0.003, 0.038})).pose == "vacuum");
}

TEST_CASE("a foot read up the leg does not make a pose of hands in the hair") {
    CHECK(alone(behind_head({0.028, 0.011, 0.086, 0.006, 0.115})).pause);
}

TEST_CASE("a foot read up the leg does not make a line-up of a front stance") {
    PoseFeatures seen = typical("quarter_front", 3);
    seen.values[at(Feature::foot_ahead)]->value = 0.048;
    seen.values[at(Feature::hip_shift)]->value = 0.003;
    CHECK(alone(seen).pose == "quarter_front");
    seen.values[at(Feature::hip_shift)]->value = 0.016;
    CHECK(alone(seen).pose == "line_up");
}
