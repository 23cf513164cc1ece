#include "media/slow_motion.hpp"

#include <doctest.h>

#include "media/films.hpp"

using namespace quarterturn;
using namespace quarterturn::media;

namespace {

TrueSpeed speed(double stored, std::optional<double> filmed) {
    ClipInfo info;
    info.average_rate = stored;
    info.capture_rate = filmed;
    return true_speed(info);
}

}  // namespace

TEST_CASE("a filming rate in the file gives true time") {
    CHECK(speed(30, 240).scale.value() == doctest::Approx(0.125));
    CHECK(speed(29.97, 119.88).scale.value() == doctest::Approx(0.25));
    CHECK(speed(240, 240).scale == 1.0);
    CHECK(speed(29.97, 30.0).scale == 1.0);
    CHECK(speed(30, 240).source == SpeedSource::tag);
}

TEST_CASE("without a tag an ordinary or fast rate is taken as filmed, anything else is asked") {
    CHECK(speed(30, {}).scale == 1.0);
    CHECK(speed(240, {}).scale == 1.0);
    CHECK(speed(240, {}).source == SpeedSource::rate);
    CHECK_FALSE(speed(10, {}).scale);
    CHECK_FALSE(speed(0, {}).scale);
    CHECK_FALSE(speed(30, 100000.0).scale);
    CHECK_FALSE(speed(30, 0.01).scale);
}

TEST_CASE("the tag is read from a file") {
    const auto path = test::film("slow.mp4",
                                 "-f lavfi -i testsrc2=size=64x48:rate=30:duration=1 -c:v libx264 -pix_fmt yuv420p "
                                 "-movflags use_metadata_tags -metadata com.android.capture.fps=240.000000");
    const auto info = probe(path);
    REQUIRE(info);
    CHECK(info->capture_rate == 240.0);
    CHECK(true_speed(*info).scale.value() == doctest::Approx(0.125));
}
