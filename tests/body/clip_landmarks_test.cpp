#include "body/clip_landmarks.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "film.hpp"
#include "media/film_writer.hpp"
#include "models.hpp"
#include "rendered.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::body;

namespace {

/// 30 s: two parts.
struct Film {
    test::TemporaryFolder folder;
    std::filesystem::path path = folder.path() / "drift.mp4";
    media::FrameIndex index;
    Film() {
        write_drifting_film(path, sample::still(sample_script("this_season/2026-03-07_quarter_turns.json"), 6), 300);
        auto built = media::build_index(path);
        REQUIRE(built);
        index = std::move(built).value();
    }
};

const Film& film() {
    static const Film made;
    return made;
}

struct Counter final : PartObserver {
    void see(const Observation& observation) override {
        ++pictures;
        if (!observation.mask.empty()) ++masks;
        REQUIRE(observation.picture.pts == observation.frame.pts);
    }
    int pictures = 0;
    int masks = 0;
};

}  // namespace

TEST_CASE("a film's landmarks are the same whatever the number of jobs") {
    LandmarkSettings settings;
    settings.jobs = 1;
    const auto one = clip_landmarks(film().path, film().index, full_models(), settings);
    settings.jobs = 2;
    const auto two = clip_landmarks(film().path, film().index, full_models(), settings);
    REQUIRE(one);
    REQUIRE(two);
    CHECK(one->series == two->series);
    CHECK(one->series.frames.size() == 300);
    for (const auto& frame : one->series.frames) REQUIRE(frame.body);
}

TEST_CASE("the joints of a still that is moved about move with it, across the parts' cut as well") {
    const auto clip = clip_landmarks(film().path, film().index, full_models(), {});
    REQUIRE(clip);
    const auto& frames = clip->series.frames;
    const auto hip_x = [&](std::size_t i) { return static_cast<double>((*frames[i].body)[Joint::left_hip].x); };
    double held = 0;
    for (std::size_t i = 1; i < frames.size(); ++i) {
        if (frames[i].t_s > 5.5 && frames[i].t_s < 10.5) continue;  // moved aside and back
        CAPTURE(frames[i].t_s);
        const double moved = std::sin(3 * frames[i].t_s) - std::sin(3 * frames[i - 1].t_s);
        // 1.5 pixels of 330 pixels of body height
        CHECK(std::abs(hip_x(i) - hip_x(i - 1) - moved) < 1.5);
        held += frames[i].held ? 1 : 0;
    }
    CHECK(held > 200);
}

TEST_CASE("what is kept in the cache is what was computed") {
    LandmarkSettings settings;
    settings.rate_hz = 2;
    const auto clip = clip_landmarks(film().path, film().index, full_models(), settings);
    REQUIRE(clip);
    CHECK(clip->series.frames.size() == 60);
    const auto kept = load_series(save_series(clip->series));
    REQUIRE(kept);
    CHECK(*kept == clip->series);
}

TEST_CASE("an observer sees every picture of its part, with masks while the region is held") {
    LandmarkSettings settings;
    settings.rate_hz = 5;
    settings.tracker.masks = true;
    settings.observe = [](std::size_t) { return std::make_unique<Counter>(); };
    const auto clip = clip_landmarks(film().path, film().index, full_models(), settings);
    REQUIRE(clip);
    REQUIRE(clip->parts.size() == 2);
    int pictures = 0;
    int masks = 0;
    for (const ObservedPart& part : clip->parts) {
        const auto& counter = dynamic_cast<const Counter&>(*part.observer);
        pictures += counter.pictures;
        masks += counter.masks;
    }
    CHECK(pictures == 154);  // 150 looked at, 0.8 s of them by both parts
    CHECK(masks > 100);
    CHECK(clip->parts[0].to_pts < clip->parts[1].from_pts);
}

TEST_CASE("progress goes forward to the end, and a stop stops") {
    LandmarkSettings settings;
    settings.rate_hz = 3;
    settings.jobs = 2;
    std::vector<double> shares;
    settings.progress = [&](double share) { shares.push_back(share); };
    REQUIRE(clip_landmarks(film().path, film().index, full_models(), settings));
    REQUIRE(shares.size() > 10);
    CHECK(std::is_sorted(shares.begin(), shares.end()));
    CHECK(shares.back() == 1);

    std::stop_source source;
    settings.progress = [&](double share) {
        if (share > 0.2) source.request_stop();
    };
    const auto stopped = clip_landmarks(film().path, film().index, full_models(), settings, source.get_token());
    REQUIRE_FALSE(stopped);
    CHECK(stopped.error().code == ErrorCode::cancelled);
}

TEST_CASE("a film in which nobody is seen gives pictures without a body") {
    const test::TemporaryFolder folder;
    const auto path = folder.path() / "empty_room.mp4";
    write_drifting_film(path, media::Image{432, 768, 3, std::vector<std::uint8_t>(432 * 768 * 3, 120)}, 20);
    const auto index = media::build_index(path);
    REQUIRE(index);
    const auto clip = clip_landmarks(path, *index, full_models(), {});
    REQUIRE(clip);
    CHECK(clip->series.frames.size() == 20);
    for (const auto& frame : clip->series.frames) CHECK_FALSE(frame.body);
}
