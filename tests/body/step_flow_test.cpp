#include "body/step_flow.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <opencv2/imgproc.hpp>

using namespace quarterturn::body;

namespace {

/// Soft blobs, seeded: slopes in all directions.
cv::Mat textured(int width = 160, int height = 284) {
    cv::RNG random(5);
    cv::Mat picture(height, width, CV_32F);
    random.fill(picture, cv::RNG::UNIFORM, 0, 255);
    cv::GaussianBlur(picture, picture, cv::Size(0, 0), 4);
    cv::normalize(picture, picture, 40, 200, cv::NORM_MINMAX);
    return picture;
}

cv::Mat shifted(const cv::Mat& picture, double dx, double dy) {
    cv::Mat out;
    cv::warpAffine(picture, out, cv::Matx23d(1, 0, dx, 0, 1, dy), picture.size(), cv::INTER_CUBIC, cv::BORDER_REFLECT);
    return out;
}

cv::Mat as_grey(const cv::Mat& picture, double noise = 0, std::uint64_t seed = 1) {
    cv::Mat noisy = picture.clone();
    if (noise > 0) {
        cv::Mat grain(picture.size(), CV_32F);
        cv::RNG(seed).fill(grain, cv::RNG::NORMAL, 0, noise);
        noisy += grain;
    }
    cv::Mat grey;
    noisy.convertTo(grey, CV_8U);
    return grey;
}

StepFlow flow(const cv::Mat& before, const cv::Mat& after) {
    return flow_between(prepare_picture(before), prepare_picture(after));
}

cv::Vec2f at(const StepFlow& step, int x, int y) {
    return step.flow[static_cast<std::size_t>((y / cell_px) * step.columns + x / cell_px)];
}

double fastest(const StepFlow& step) {
    double most = 0;
    for (const cv::Vec2f& v : step.flow) most = std::max(most, std::hypot(double{v[0]}, double{v[1]}));
    return most;
}

}  // namespace

TEST_CASE("a shaking camera is taken out, also by more than a pixel") {
    const cv::Mat picture = textured();
    for (const double shake : {0.2, 0.7, 1.6}) {
        CAPTURE(shake);
        const StepFlow step = flow(as_grey(picture), as_grey(shifted(picture, shake, -shake / 2)));
        CHECK(double{step.shake[0]} == doctest::Approx(shake).epsilon(0.05));
        CHECK(double{step.shake[1]} == doctest::Approx(-shake / 2).epsilon(0.05));
        CHECK(std::abs(at(step, 80, 140)[0]) < 0.06F);
        CHECK(std::abs(at(step, 80, 140)[1]) < 0.06F);
    }
}

TEST_CASE("a part that moves before a still room has its own displacement, with and without a shaking camera") {
    const cv::Mat room = textured();
    for (const double shake : {0.0, 0.8}) {
        CAPTURE(shake);
        cv::Mat after = shifted(room, shake, 0);
        const cv::Rect part(60, 100, 40, 80);
        shifted(room, shake + 0.6, -0.4)(part).copyTo(after(part));
        const StepFlow step = flow(as_grey(room), as_grey(after));
        CHECK(double{step.shake[0]} == doctest::Approx(shake).epsilon(0.08));
        CHECK(double{at(step, 80, 140)[0]} == doctest::Approx(0.6).epsilon(0.15));
        CHECK(double{at(step, 80, 140)[1]} == doctest::Approx(-0.4).epsilon(0.15));
        CHECK(std::abs(at(step, 20, 240)[0]) < 0.08F);
    }
}

TEST_CASE("a change of brightness is no movement") {
    const cv::Mat picture = textured();
    CHECK(fastest(flow(as_grey(picture), as_grey(picture * 0.95))) < 0.15);
}

TEST_CASE("sensor noise before a plain wall is no movement") {
    const cv::Mat wall(284, 160, CV_32F, cv::Scalar(150));
    const StepFlow step = flow(as_grey(wall, 2, 1), as_grey(wall, 2, 2));
    CHECK(fastest(step) < 0.3);  // the largest of some 2700 cells; 1 pixel a step is what ends a hold
    CHECK(step.energy < 0.05);
    CHECK(step.noise > 0.5);
}

TEST_CASE("the same picture twice does not move, and a movement has energy") {
    const cv::Mat picture = textured();
    CHECK(fastest(flow(as_grey(picture), as_grey(picture))) == doctest::Approx(0));
    cv::Mat after = picture.clone();
    shifted(picture, 2, 0)(cv::Rect(60, 100, 40, 80)).copyTo(after(cv::Rect(60, 100, 40, 80)));
    CHECK(flow(as_grey(picture), as_grey(after)).energy > 0.05);
}
