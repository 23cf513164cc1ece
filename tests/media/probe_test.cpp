#include "media/probe.hpp"

#include <doctest.h>

#include "media/films.hpp"

using namespace quarterturn;
using namespace quarterturn::media;

TEST_CASE("a film says what it is") {
    const auto info = probe(test::film_of_kind("h264 mp4 with sound"));
    REQUIRE(info);
    CHECK(info->codec == "h264");
    CHECK(info->width == 160);
    CHECK(info->height == 120);
    CHECK(info->bits == 8);
    CHECK(info->frames_claimed == 90);
    CHECK(info->duration_s == doctest::Approx(3.0));
    CHECK(info->average_rate == doctest::Approx(30.0));
    CHECK_FALSE(info->variable_rate);
    REQUIRE(info->audio.size() == 1);
    CHECK(info->audio[0].codec == "aac");
    CHECK(info->audio[0].sample_rate_hz == 48000);
    CHECK_FALSE(info->recorded_at);
}

TEST_CASE("high dynamic range is told apart") {
    const auto hlg = probe(test::film_of_kind("hevc mov 10 bit hlg"));
    REQUIRE(hlg);
    CHECK(hlg->bits == 10);
    CHECK((hlg->colour == Colour{Matrix::bt2020, Range::limited, Transfer::hlg}));
    const auto pq = probe(test::film_of_kind("hevc mp4 10 bit pq"));
    REQUIRE(pq);
    CHECK((pq->colour == Colour{Matrix::bt2020, Range::limited, Transfer::pq}));
}

TEST_CASE("variable rate is told from constant rate") {
    for (const char* name : {"h264 mp4 variable rate", "h264 mkv variable rate", "vp9 mkv variable rate"}) {
        CAPTURE(name);
        CHECK(probe(test::film_of_kind(name)).value().variable_rate);
    }
    for (const char* name : {"h264 mp4", "h264 mkv", "h264 mpegts", "vp9 webm", "mpeg4 avi", "h264 fragmented mp4"}) {
        CAPTURE(name);
        CHECK_FALSE(probe(test::film_of_kind(name)).value().variable_rate);
    }
}
