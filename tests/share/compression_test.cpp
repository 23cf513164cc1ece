#include <doctest/doctest.h>

#include "share/measure_method.hpp"

using namespace quarterturn;

namespace {

double bits_at(int rate) {
    media::ClipInfo info;
    info.width = 400;
    info.height = 500;
    info.file_bytes = 1'000'000;
    media::FrameIndex index;
    index.time_base = {1, rate};
    for (int i = 0; i < 10 * rate; ++i) index.pictures.push_back({i, i, i == 0});
    return *share::bits_per_pixel(info, index);
}

}  // namespace

TEST_CASE("a film of the same size and length is as strongly compressed at 60 pictures a second as at 30") {
    CHECK(bits_at(30) == doctest::Approx(8e6 / (300 * 200000.0)));
    CHECK(bits_at(60) == doctest::Approx(bits_at(30)).epsilon(0.01));
    CHECK(bits_at(120) == doctest::Approx(bits_at(30)).epsilon(0.01));
}

TEST_CASE("fewer pictures share the same bits among fewer pixels") {
    CHECK(bits_at(15) == doctest::Approx(2 * bits_at(30)));
}

TEST_CASE("without pictures nothing is known of the compression") {
    CHECK_FALSE(share::bits_per_pixel({}, {}));
}
