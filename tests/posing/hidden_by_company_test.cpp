#include "posing/hidden_by_company.hpp"

#include <doctest/doctest.h>

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

constexpr double rate_hz = 15;

Posture standing(double hand) {
    Posture posture;
    for (std::size_t j = 0; j < joint_count; ++j)
        posture[j] = JointPosition{0.1 * static_cast<double>(j % 2), 0.1 * static_cast<double>(j), 0};
    posture[static_cast<std::size_t>(Joint::left_wrist)]->x += hand;
    posture[static_cast<std::size_t>(Joint::left_elbow)]->x += hand / 2;
    return posture;
}

double hand_of(const JointSeries& joints, std::size_t i) {
    return joints.postures[i][static_cast<std::size_t>(Joint::left_wrist)]->x -
           standing(0)[static_cast<std::size_t>(Joint::left_wrist)]->x;
}

/// Three seconds, somebody passes in the second one and takes half of the joints along.
struct Scene {
    JointSeries joints;
    body::BodyCourse course;
};

template <class Hand>
Scene passed_by(Hand hand) {
    Scene scene;
    for (int i = 0; i < 45; ++i) {
        const double t = i / rate_hz;
        body::CourseFrame frame;
        frame.t_s = t;
        frame.present = true;
        frame.company = t >= 1 && t < 2;
        Posture posture = standing(hand(t));
        if (frame.company && i % 5 != 0 && i % 5 != 1)  // two of five pictures are read well
            for (std::size_t j = 0; j < joint_count; j += 2) posture[j]->x += 0.1 * (i % 3 + 1);
        scene.joints.t_s.push_back(t);
        scene.joints.postures.push_back(posture);
        scene.joints.facing_deg.push_back(frame.company ? 70.0 : 90.0);
        scene.course.frames.push_back(frame);
    }
    return scene;
}

}  // namespace

TEST_CASE("a posture that is the same before and after somebody passes was kept") {
    Scene scene = passed_by([](double) { return 0.0; });
    bridge_company(scene.joints, scene.course);
    for (std::size_t i = 0; i < 45; ++i) {
        CAPTURE(i);
        CHECK(*posture_distance(scene.joints.postures[i], standing(0)) < 0.001);
        CHECK(scene.joints.facing_deg[i] == 90.0);
    }
}

TEST_CASE("a movement while somebody passes begins and ends near where the hand moved") {
    Scene scene = passed_by([](double t) { return t < 1.45 ? 0.0 : t < 1.65 ? 0.15 : 0.3; });
    bridge_company(scene.joints, scene.course);
    for (std::size_t i = 0; i < 45; ++i) {
        const double t = static_cast<double>(i) / rate_hz;
        CAPTURE(t);
        // read well at 1.33-1.40 and 1.67-1.73 only
        if (t < 1.45) CHECK(hand_of(scene.joints, i) == doctest::Approx(0));
        if (t > 1.66) CHECK(hand_of(scene.joints, i) == doctest::Approx(0.3));
    }
}

TEST_CASE("where nobody passes nothing is changed") {
    Scene scene = passed_by([](double t) { return 0.2 * t; });
    for (body::CourseFrame& frame : scene.course.frames) frame.company = false;
    const JointSeries before = scene.joints;
    bridge_company(scene.joints, scene.course);
    for (std::size_t i = 0; i < 45; ++i) CHECK(*posture_distance(scene.joints.postures[i], before.postures[i]) == 0);
}
