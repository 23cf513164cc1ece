#include "body/motion_record.hpp"

#include <doctest/doctest.h>

#include "body/athlete_place.hpp"

using namespace quarterturn::body;

namespace {

constexpr int columns = 20;
constexpr int rows = 40;

StepFlow still() {
    return {columns, rows, std::vector<cv::Vec2f>(columns * rows), {}, 1, 0};
}

/// A block of cells moving by `v`.
StepFlow moving(cv::Rect cells, cv::Vec2f v) {
    StepFlow step = still();
    for (int y = cells.y; y < cells.br().y; ++y)
        for (int x = cells.x; x < cells.br().x; ++x) step.flow[static_cast<std::size_t>(y * columns + x)] = v;
    return step;
}

cv::Vec2f velocity(const MotionRecord& record, std::size_t step, double window_s, int x, int y) {
    std::vector<cv::Vec2f> all;
    record.velocities(step, window_s, all);
    return all[static_cast<std::size_t>(y * columns + x)];
}

}  // namespace

TEST_CASE("an even movement has its speed whatever the distance of the pictures") {
    MotionRecord record;
    double t = 0;
    for (const double length : {0.1, 0.05, 0.2, 0.1, 0.05, 0.05}) {
        record.add(t, t + length, moving({5, 5, 4, 4}, cv::Vec2f(static_cast<float>(10 * length), 0)));
        t += length;
    }
    for (std::size_t i = 0; i < 6; ++i)
        CHECK(double{velocity(record, i, 0.2, 6, 6)[0]} == doctest::Approx(10).epsilon(0.05));
    CHECK(velocity(record, 2, 0.2, 1, 1)[0] == 0);
}

TEST_CASE("what goes to and fro within the window cancels") {
    MotionRecord record;
    for (int i = 0; i < 12; ++i)
        record.add(i * 0.05, (i + 1) * 0.05, moving({5, 5, 4, 4}, cv::Vec2f(i % 2 == 0 ? 1.0F : -1.0F, 0)));
    CHECK(std::abs(velocity(record, 6, 0.2, 6, 6)[0]) < 5.5F);  // of 20
}

TEST_CASE("her place is where she moves again and again, not where she walks through") {
    MotionRecord record;
    int at = 0;
    const auto add = [&](const StepFlow& step) {
        record.add(at / 15.0, (at + 1) / 15.0, step);
        ++at;
    };
    // She walks from the left, tall, ten pictures; then turns six times in one place.
    for (int i = 0; i < 10; ++i) add(moving({i, 0, 4, 38}, cv::Vec2f(2, 0)));
    for (int turn = 0; turn < 6; ++turn) {
        for (int i = 0; i < 15; ++i) add(moving({12, 10, 5, 24}, cv::Vec2f(1, 0)));
        for (int i = 0; i < 30; ++i) add(still());
    }
    const SpeedRecord speeds(record, 0.2);
    const auto place = find_athlete_place(speeds);
    REQUIRE(place);
    CHECK(place->height_px == 24 * cell_px);
    CHECK(place->box.left == 12);
    CHECK(movement_at(speeds, 5, *place).in_place.value() < 0.5);
    CHECK(movement_at(speeds, 15, *place).in_place.value() > 0.9);
    CHECK_FALSE(movement_at(speeds, 35, *place).in_place);
    CHECK(movement_at(speeds, 15, *place).speed_px == doctest::Approx(15).epsilon(0.02));
    CHECK(movement_at(speeds, 35, *place).speed_px == doctest::Approx(0));
}

TEST_CASE("without movement there is no place") {
    MotionRecord record;
    CHECK_FALSE(find_athlete_place(SpeedRecord(record, 0.2)));
    for (int i = 0; i < 50; ++i) record.add(i / 15.0, (i + 1) / 15.0, still());
    CHECK_FALSE(find_athlete_place(SpeedRecord(record, 0.2)));
}
