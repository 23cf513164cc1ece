// Films nobody would choose: each gives an answer or an honest absence, and nothing that makes no sense.
#include <doctest/doctest.h>

#include <cmath>

#include "share/measure.hpp"
#include "share/remade_film.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::test;

namespace {

/// Two seconds of somebody standing in the front pose, 15 pictures a second, 432 x 768.
const std::vector<media::Image>& standing() {
    static const std::vector<media::Image> pictures = pictures_of(
        std::filesystem::path(QUARTERTURN_SOURCE_DIR) / "sample_clips/more/sway_and_twist.mp4", 8.5, 10.5, 2);
    return pictures;
}

/// The same person again at 0.6 of the size in the right half.
std::vector<media::Image> beside_a_smaller_one() {
    std::vector<media::Image> out;
    for (const media::Image& image : standing()) {
        media::Image right = image;
        for (int y = 0; y < right.height; ++y)  // the wall at the left edge, all over
            for (int x = 0; x < right.width * 3; ++x)
                right.samples[static_cast<std::size_t>(y * right.width * 3 + x)] =
                    image.samples[static_cast<std::size_t>(y * right.width * 3 + x % 3)];
        const media::Image small = resized(image, 260, 462);
        for (int y = 0; y < small.height; ++y)
            std::copy_n(small.samples.begin() + static_cast<std::ptrdiff_t>(y) * small.width * 3, small.width * 3,
                        right.samples.begin() + (static_cast<std::ptrdiff_t>(y + 250) * right.width + 86) * 3);
        out.push_back(side_by_side(image, right));
    }
    return out;
}

template <class Change>
std::vector<media::Image> changed(const Change& change) {
    std::vector<media::Image> out;
    for (const media::Image& picture : standing()) out.push_back(change(picture));
    return out;
}

posing::Analysis measured(const std::vector<media::Image>& pictures, int rate_hz, int stored_rotation = 0,
                          std::optional<int> said_rotation = {}) {
    const TemporaryFolder folder;
    write_film(folder.path() / "film.mp4", pictures, rate_hz, stored_rotation);
    share::FilmKnowledge knowledge;
    knowledge.height_cm = 171;
    knowledge.rotation_deg = said_rotation;
    share::MeasureSettings settings;
    settings.method = posing::Method::landmarks;
    settings.jobs = 1;
    auto analysis = share::measure_film(folder.path() / "film.mp4", knowledge, settings);
    REQUIRE(analysis);
    double before = 0;
    for (const auto& segment : analysis->segments) {
        CHECK(segment.start_s >= before - 1e-9);
        CHECK(segment.end_s > segment.start_s);
        before = segment.end_s;
        for (const auto* value : {&segment.facing_deg, &segment.twist.range, &segment.sway.rms, &segment.stillness}) {
            if (value->value) CHECK(std::isfinite(*value->value));
        }
    }
    return std::move(*analysis);
}

/// Seconds in which somebody was seen.
double seen_s(const posing::Analysis& analysis) {
    const auto& t = analysis.signals.t_s;
    return t.size() < 2 ? 0 : t.back() - t.front();
}

bool holds_front(const posing::Analysis& analysis) {
    for (const auto& segment : analysis.segments)
        if (segment.kind == posing::SegmentKind::hold && segment.facing_deg.value)
            return std::abs(*segment.facing_deg.value) < 30;
    return false;
}

}  // namespace

TEST_CASE("black pictures and an empty room: nobody, said in words") {
    const auto black = changed([](media::Image image) {
        std::fill(image.samples.begin(), image.samples.end(), std::uint8_t{0});
        return image;
    });
    // The wall beside her, as wide as the picture.
    const auto empty = changed([](const media::Image& image) {
        media::Image out = image;
        for (int y = 0; y < image.height; ++y)
            for (int x = 0; x < image.width; ++x)
                for (int c = 0; c < 3; ++c)
                    out.samples[static_cast<std::size_t>((y * image.width + x) * 3 + c)] =
                        image.samples[static_cast<std::size_t>((y * image.width + x / 12) * 3 + c)];
        return out;
    });
    for (const auto& pictures : {black, empty}) {
        const posing::Analysis analysis = measured(pictures, 15);
        CHECK(analysis.segments.empty());
        CHECK_FALSE(analysis.clip.warnings.empty());
    }
}

TEST_CASE("black pictures in the midst of a hold lose no more than themselves") {
    auto pictures = standing();
    for (std::size_t i = 12; i < 15; ++i)
        std::fill(pictures[i].samples.begin(), pictures[i].samples.end(), std::uint8_t{0});
    const posing::Analysis analysis = measured(pictures, 15);
    CHECK(seen_s(analysis) > 1.7);
    CHECK(holds_front(analysis));
}

TEST_CASE("two people, and a mirror on the wall: the larger one is measured") {
    const auto mirror = changed([](const media::Image& image) { return side_by_side(image, mirror_image(image)); });
    for (const auto& pictures : {beside_a_smaller_one(), mirror}) {
        const posing::Analysis analysis = measured(pictures, 15);
        CHECK(seen_s(analysis) > 1.7);
        CHECK(holds_front(analysis));
    }
}

TEST_CASE("of two people the one a person showed is followed") {
    const TemporaryFolder folder;
    write_film(folder.path() / "film.mp4", beside_a_smaller_one(), 15);
    share::FilmKnowledge knowledge;
    share::MeasureSettings settings;
    settings.jobs = 1;
    const auto middle_x = [&] {
        const auto series = share::film_landmarks(folder.path() / "film.mp4", knowledge, settings);
        REQUIRE(series);
        REQUIRE(series->frames.back().region);
        return series->frames.back().region->centre.x;
    };
    CHECK(middle_x() < 432);
    knowledge.athlete_at = journal::AthleteShown{90000, {1, 90000}, 0.75, 0.7};
    CHECK(middle_x() > 432);
    // Where nobody is: as without, and the film says so.
    knowledge.athlete_at->y = 0.02;
    const auto series = share::film_landmarks(folder.path() / "film.mp4", knowledge, settings);
    REQUIRE(series);
    CHECK(series->frames.back().region->centre.x < 432);
    CHECK(series->warnings.size() == 1);
}

TEST_CASE("a film turned by the file's word measures as the upright one") {
    for (const int rotation : {90, -90, 180}) {
        CAPTURE(rotation);
        // Stored lying the other way, and the file says how to turn it.
        const auto stored =
            changed([&](const media::Image& image) { return lying(image, rotation == 180 ? 180 : -rotation); });
        const posing::Analysis analysis = measured(stored, 15, rotation);
        CHECK(analysis.clip.height == 768);
        CHECK(holds_front(analysis));
    }
}

TEST_CASE(
    "a film that lies on its side without saying so gives an answer or none, and is right once a person turns it") {
    for (const int rotation : {90, 180}) {
        CAPTURE(rotation);
        const auto stored = changed([&](const media::Image& image) { return lying(image, rotation); });
        (void)measured(stored, 15);
        const posing::Analysis turned = measured(stored, 15, 0, rotation == 180 ? 180 : -rotation);
        CHECK(turned.clip.height == 768);
        CHECK(holds_front(turned));
    }
}

TEST_CASE("small and very large pictures") {
    const posing::Analysis small =
        measured(changed([](const media::Image& image) { return resized(image, 240, 426); }), 15);
    CHECK(holds_front(small));
    std::vector<media::Image> large;
    for (std::size_t i = 0; i < 12; ++i) large.push_back(resized(standing()[i], 2160, 3840));
    const posing::Analysis huge = measured(large, 15);
    CHECK(huge.clip.height == 3840);
    CHECK(seen_s(huge) > 0.6);
}

TEST_CASE("ten and a hundred and twenty pictures a second") {
    std::vector<media::Image> few, many;
    for (std::size_t i = 0; i < standing().size(); ++i) {
        if (i % 3 != 2) few.push_back(standing()[i]);  // ten of fifteen; a little uneven, as forwarded films are
        for (int copy = 0; copy < 8; ++copy) many.push_back(resized(standing()[i], 216, 384));
    }
    CHECK(holds_front(measured(few, 10)));
    CHECK(holds_front(measured(many, 120)));
}
