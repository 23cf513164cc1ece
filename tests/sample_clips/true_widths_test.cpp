#include "true_widths.hpp"

#include <doctest/doctest.h>

using namespace quarterturn::sample;

namespace {

TrueWidths front_widths(const char* body) {
    const auto script = parse_script(std::string{R"({"format": "quarterturn.script", "version": 1, "body": )"} + body +
                                     R"(, "steps": [{"do": "pose", "pose": "quarter_front", "hold_s": 2}]})");
    REQUIRE(script);
    const Timeline timeline(*script);
    return true_widths(timeline, timeline.duration_s() - 1);
}

}  // namespace

TEST_CASE("a narrower waist and broader shoulders show in the true widths, and only there") {
    const TrueWidths plain = front_widths("{}"), other = front_widths(R"({"waist": 0.94, "shoulder": 1.05})");
    REQUIRE(plain.waist);
    REQUIRE(other.waist);
    CHECK(*other.waist / *plain.waist < 0.98);
    CHECK(*other.waist / *plain.waist > 0.92);
    CHECK(*other.shoulders / *plain.shoulders > 1.02);
    CHECK(*other.shoulders / *plain.shoulders < 1.06);
    CHECK(*other.hips == doctest::Approx(*plain.hips).epsilon(0.005));
}

TEST_CASE("a taller body of the same build has the same widths over its height") {
    // the phone stands as far away, so that perspective changes them a little
    const TrueWidths plain = front_widths(R"({"height_cm": 160})"), tall = front_widths(R"({"height_cm": 176})");
    CHECK(*tall.hips == doctest::Approx(*plain.hips).epsilon(0.01));
    CHECK(*tall.shoulders == doctest::Approx(*plain.shoulders).epsilon(0.01));
}
