#include "body/motion.hpp"

#include <doctest/doctest.h>

#include <fstream>

#include "drawn_figure.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::body;
using namespace quarterturn::test;

namespace {

FigureFilm arms_up_film(double length_s = 6) {
    FigureFilm film;
    film.length_s = length_s;
    FigurePosture up;
    up.upper_arm[0] = up.upper_arm[1] = 90;
    up.forearm[0] = up.forearm[1] = 170;
    FigurePosture side;
    side.half_turn = 0.45;
    film.keys = {{0, 0, {}}, {1.5, 1, up}, {4, 1, side}};
    return film;
}

double fastest_in(const MotionSeries& motion, double from_s, double to_s) {
    double most = 0;
    for (std::size_t i = 0; i < motion.t_s.size(); ++i)
        if (motion.t_s[i] >= from_s && motion.t_s[i] <= to_s) most = std::max(most, motion.speed[i].value());
    return most;
}

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace

TEST_CASE("a moving figure is fast while it moves and slow while it stands") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "arms.mp4";
    REQUIRE(write_figure_film(arms_up_film(), path));
    double done = 0;
    const Result<ObservedMotion> seen = observe_motion(path, {}, {}, [&](double share) { done = share; });
    REQUIRE(seen);
    const MotionSeries& motion = seen->motion;
    REQUIRE(motion.place);
    CHECK(fastest_in(motion, 0.3, 1.4) < 0.06);
    CHECK(fastest_in(motion, 1.8, 2.2) > 0.2);
    CHECK(fastest_in(motion, 2.8, 3.9) < 0.06);
    CHECK(done > 0.9);
    CHECK(seen->clip.file == "arms.mp4");
    CHECK(seen->clip.frames == 180);
    CHECK(motion.picture_pts.size() == 180);
    CHECK(seen->clip.duration_s == doctest::Approx(6).epsilon(0.01));
    CHECK(seen->clip.fingerprint.substr(0, 7) == "sha256:");
    // The figure is 0.62 of the picture tall.
    CHECK(motion.place->height_px == doctest::Approx(0.62 * 284).epsilon(0.15));
    SUBCASE("postures before and after are told apart, one posture is not") {
        CHECK(motion.posture_change(0.2, 0.6, 1.0, 1.4).value() < 0.01);
        CHECK(motion.posture_change(0.8, 1.3, 2.8, 3.2).value() > 0.05);
    }
    SUBCASE("a film stored four times too slow is measured at its true speed") {
        MotionSettings slow;
        slow.time_scale = 0.25;
        const Result<ObservedMotion> fast = observe_motion(path, slow);
        REQUIRE(fast);
        CHECK(fast->clip.duration_s == doctest::Approx(1.5).epsilon(0.01));
        CHECK(fastest_in(fast->motion, 0.43, 0.57) > 0.15);
        CHECK(fastest_in(fast->motion, 0.7, 0.9) < 0.15);
    }
    SUBCASE("the same film gives the same numbers on one thread and on several") {
        MotionSettings one;
        one.threads = 1;
        const Result<ObservedMotion> again = observe_motion(path, one);
        REQUIRE(again);
        CHECK(again->motion.speed == motion.speed);
    }
}

TEST_CASE("a film in which nothing moves has no place and no speed") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "empty.mp4";
    FigureFilm film = arms_up_film(2);
    film.present = [](double) { return false; };
    REQUIRE(write_figure_film(film, path));
    const Result<ObservedMotion> seen = observe_motion(path);
    REQUIRE(seen);
    CHECK_FALSE(seen->motion.place);
    for (const auto& speed : seen->motion.speed) CHECK_FALSE(speed);
    CHECK_FALSE(seen->motion.posture_change(0, 1, 1, 2));
}

TEST_CASE("bad films give a plain refusal, or what can be read with a warning") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "whole.mp4";
    REQUIRE(write_figure_film(arms_up_film(), path));
    const std::string whole = bytes_of(path);
    const auto made = [&](const char* name, std::string_view bytes) {
        const auto where = folder.path() / name;
        std::ofstream(where, std::ios::binary) << bytes;
        return where;
    };
    CHECK(observe_motion(folder.path() / "none.mp4").error().code == ErrorCode::not_found);
    CHECK_FALSE(observe_motion(folder.path()));
    CHECK_FALSE(observe_motion(made("zero.mp4", "")));
    CHECK_FALSE(observe_motion(made("text.mp4", "this is no film\n")));
    const Result<ObservedMotion> cut =
        observe_motion(made("cut.mp4", std::string_view(whole).substr(0, whole.size() * 6 / 10)));
    REQUIRE(cut);
    CHECK(cut->clip.frames < 180);
    CHECK_FALSE(cut->clip.warnings.empty());
}

TEST_CASE("a film of one picture is measured as nothing, and a stopped measurement says so") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "one.mp4";
    REQUIRE(write_figure_film(arms_up_film(1.0 / 30), path));
    const Result<ObservedMotion> seen = observe_motion(path);
    REQUIRE(seen);
    CHECK(seen->clip.frames == 1);
    CHECK(seen->motion.t_s.empty());
    std::stop_source stop;
    stop.request_stop();
    CHECK(observe_motion(path, {}, stop.get_token()).error().code == ErrorCode::cancelled);
}
