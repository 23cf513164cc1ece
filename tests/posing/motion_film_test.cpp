// Holds from movement alone on small films drawn in the test, against the same definition applied to the joints the
// figure was drawn from. The demo films are measured in demo_films_test.cpp.
#include <doctest/doctest.h>

#include "body/motion.hpp"
#include "drawn_figure.hpp"
#include "hold_match.hpp"
#include "posing/analyse.hpp"
#include "posing/analysis_json.hpp"
#include "posing/joints.hpp"
#include "rules/rule_sets.hpp"
#include "schema_check.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;
using namespace quarterturn::test;

namespace {

FigurePosture arms(double upper, double fore) {
    FigurePosture posture;
    posture.upper_arm[0] = posture.upper_arm[1] = upper;
    posture.forearm[0] = posture.forearm[1] = fore;
    return posture;
}

FigureFilm four_holds() {
    FigureFilm film;
    film.length_s = 13;
    FigurePosture side = arms(10, 10);
    side.half_turn = 0.45;
    film.keys = {{0, 0, arms(12, 10)}, {3, 1, side}, {6, 1.2, arms(90, 165)}, {9.5, 1.2, arms(45, -20)}};
    return film;
}

std::vector<TrueStill> true_stills(const FigureFilm& film) {
    JointSeries joints;
    for (int i = 0; i < static_cast<int>(film.length_s * film.rate); ++i) {
        const double t = i / film.rate;
        const FigureJoints at = joints_at(film, t);
        const double height = place_at(film, film.length_s / 2).z;
        Posture posture;
        for (std::size_t k = 0; k < main_joint_count; ++k)
            posture[k] = JointPosition{at[k].x / height, at[k].y / height, 0};
        joints.t_s.push_back(t);
        joints.postures.push_back(posture);
    }
    std::vector<TrueStill> stills;
    for (const StillStretch& still : find_still_stretches(joints)) stills.push_back({still.bounds, true, ""});
    return stills;
}

Analysis analysed(const FigureFilm& film, const std::optional<rules::RuleSet>& rules = {}) {
    const TemporaryFolder folder;
    const auto path = folder.path() / "film.mp4";
    REQUIRE(write_figure_film(film, path));
    const Result<body::ObservedMotion> seen = body::observe_motion(path);
    REQUIRE(seen);
    return analyse_motion(*seen, rules);
}

HoldMatch matched(const FigureFilm& film) {
    std::vector<Stretch> found;
    for (const Segment& segment : analysed(film).segments)
        if (segment.kind == SegmentKind::hold) found.push_back({segment.start_s, segment.end_s});
    return match_holds(found, true_stills(film));
}

void check_good(const HoldMatch& match, std::size_t holds) {
    CHECK(match.matched.size() == holds);
    CHECK(match.missed.empty());
    CHECK(match.invented.empty());
    CHECK(match.worst(&Matched::start_error) < 0.25);
    CHECK(match.worst(&Matched::end_error) < 0.25);
    CHECK(match.worst(&Matched::length_error) < 0.3);
}

}  // namespace

TEST_CASE("four holds of a drawn figure are found where its joints rest") {
    check_good(matched(four_holds()), 4);
}

TEST_CASE("a shaking phone, a busy wall and a drifting exposure change nothing") {
    FigureFilm film = four_holds();
    film.clutter = true;
    film.camera = [](double t) {
        return cv::Point2d(1.5 * std::sin(7 * t) + 0.7 * std::sin(17 * t), 1.2 * std::cos(5 * t));
    };
    film.brightness = [](double t) { return 1 + 0.15 * std::sin(0.5 * t); };
    check_good(matched(film), 4);
}

TEST_CASE("swaying and a fidgeting hand stay within a hold") {
    FigureFilm film = four_holds();
    film.disturb = [](double t, FigurePosture posture) {
        posture.sideways += 0.01 * std::sin(2 * CV_PI * 0.5 * t);
        if (t > 8 && t < 8.8) posture.forearm[1] += 25 * std::pow(std::sin(CV_PI * (t - 8) / 0.8), 2);
        return posture;
    };
    check_good(matched(film), 4);
}

TEST_CASE("coming from the phone and going back is neither a hold nor a transition") {
    FigureFilm film = four_holds();
    film.length_s = 18;
    for (KeyPosture& key : film.keys) key.at_s += key.at_s > 0 ? 2.5 : 0;
    film.place = [&](double t) {
        const double away = t < 2.5 ? 1 - t / 2.5 : t > 15.5 ? (t - 15.5) / 2.5 : 0;  // 1: at the phone
        return cv::Point3d(108 + 3 * std::sin(12 * t) * (away > 0 ? 1 : 0), 353 + 250 * away, 238 * (1 + 1.2 * away));
    };
    const Analysis analysis = analysed(film);
    REQUIRE_FALSE(analysis.segments.empty());
    CHECK(analysis.segments.front().start_s > 2.0);
    CHECK(analysis.segments.front().kind == SegmentKind::hold);
    CHECK(analysis.segments.back().end_s < 16);
}

TEST_CASE("the analysis of a film is a valid document, with poses guessed from the call order only") {
    const Result<rules::RuleSet> rules = rules::bundled_rule_set("womens_figure");
    REQUIRE(rules);
    const Analysis analysis = analysed(four_holds(), *rules);
    REQUIRE(analysis.segments.size() == 7);
    CHECK(schema_problems("analysis.schema.json", write_analysis(analysis, true)) == "");
    const char* poses[] = {"quarter_front", "quarter_left_side", "quarter_back", "quarter_right_side"};
    for (std::size_t i = 0; i < 7; ++i) {
        const Segment& segment = analysis.segments[i];
        CHECK(segment.kind == (i % 2 == 0 ? SegmentKind::hold : SegmentKind::transition));
        if (segment.kind != SegmentKind::hold) continue;
        CHECK(segment.pose == poses[i / 2]);
        CHECK(segment.pose_source == PoseSource::order);
        CHECK(segment.pose_confidence <= 0.5);
        CHECK(segment.steadiest_pts > segment.start_pts);
        CHECK(segment.steadiest_pts < segment.end_pts);
        REQUIRE_FALSE(segment.checks.empty());
        CHECK(segment.checks.front().item == "hold_length");
        CHECK(segment.checks.front().met.has_value());
    }
    CHECK(analysis.segments.front().start_s == 0);
}

TEST_CASE("a film in which nobody moves has no segments and says so") {
    FigureFilm film = four_holds();
    film.length_s = 2;
    film.present = [](double) { return false; };
    const Analysis analysis = analysed(film);
    CHECK(analysis.segments.empty());
    REQUIRE_FALSE(analysis.clip.warnings.empty());
    CHECK(schema_problems("analysis.schema.json", write_analysis(analysis, true)) == "");
}
