// The measures from landmarks in the analysis document: written, allowed by the schema, read back.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "posing/analysis_json.hpp"
#include "schema_check.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;
using test::schema_problems;

namespace {

constexpr const char* schema = "analysis.schema.json";

Segment stretch(SegmentKind kind, double start, double end) {
    Segment out;
    out.kind = kind;
    out.start_s = start;
    out.end_s = end;
    return out;
}

Analysis with_everything() {
    Analysis analysis;
    analysis.clip = {"walk.mp4", "sha256:" + std::string(64, 'b'), 20.5, 615, 432, 768, 0, {1, 1000}, 0, 1, false, {}};
    analysis.method = Method::landmarks;
    analysis.height_cm = 170.0;
    Segment walk = stretch(SegmentKind::walk, 0, 4);
    walk.steps = 6;
    walk.cadence_per_min = {108.0, ""};
    walk.stage = true;
    walk.step_evenness = Measured{4.2, ""};
    walk.path = Measured{3.41, ""};
    Segment hold = stretch(SegmentKind::hold, 4, 9);
    hold.pose = "quarter_front";
    hold.pose_source = PoseSource::body;
    hold.facing_deg = {2.0, ""};
    hold.twist = {{1.0, ""}, {1.0, ""}, {1.0, ""}};
    hold.twist.drift = Measured{-1.5, ""};
    hold.twist.shoulders_differ = Measured{0.8, ""};
    hold.sway = {{0.5, ""}, {1.0, ""}, {0.4, ""}};
    hold.sway.path_speed = Measured{0.9, ""};
    hold.sway.drift = Measured{-0.6, ""};
    hold.stillness = {0.02, ""};
    hold.hands = Hands{{1.5, ""}, {-4.0, ""}, {-5.5, ""}, {0.3, ""}, {std::nullopt, "the hands are hidden"}};
    hold.widths = Widths{{26.1, ""}, {14.0, ""}, {std::nullopt, "the arms cover the hips"}, 0.4};
    Segment turn = stretch(SegmentKind::transition, 9, 10);
    turn.turn_deg = {88.0, ""};
    turn.steps = 3;
    turn.extra_steps = 1;
    turn.smoothness = Measured{-1.62, ""};
    turn.trunk = TrunkMovement{{std::nullopt, "she turns"}, {4.2, ""}};
    analysis.segments = {walk, hold, turn};
    analysis.stage_walk = StageWalk{0, 4, {{1.5, 2.5}}, 60.0, {}};
    analysis.turn_evenness = Measured{std::nullopt, "fewer than three quarter turns"};
    analysis.mirrored_suggested = false;
    return analysis;
}

}  // namespace

TEST_CASE("the schema allows every measure from landmarks") {
    Analysis analysis = with_everything();
    CHECK(schema_problems(schema, write_analysis(analysis, true)) == "");
    analysis.height_cm.reset();
    CHECK(schema_problems(schema, write_analysis(analysis, true)) == "");
}

TEST_CASE("a hand that cannot be seen is null with its reason") {
    const auto out = nlohmann::json::parse(write_analysis(with_everything(), false));
    const auto& hands = out["segments"][1]["hands"];
    CHECK(hands["fidget_rms_cm"].is_null());
    CHECK(hands["reason"] == "the hands are hidden");
    CHECK(out["quarter_turns"]["evenness_pct"].is_null());
    CHECK(out["quarter_turns"]["reason"] == "fewer than three quarter turns");
    CHECK(out["stage_walk"]["stops"][0]["duration_s"] == 1.0);
}

TEST_CASE("measures from landmarks come back as they were written") {
    for (const bool in_cm : {true, false}) {
        Analysis analysis = with_everything();
        if (!in_cm) analysis.height_cm.reset();
        const std::string text = write_analysis(analysis, true);
        const auto read = read_analysis(text);
        REQUIRE(read);
        CHECK(write_analysis(*read, true) == text);
        CHECK(read->segments[0].stage == true);
        CHECK(read->segments[2].extra_steps == 1);
        CHECK(read->segments[1].sway.drift->value == -0.6);
        CHECK(read->segments[1].twist.shoulders_differ->value == 0.8);
        CHECK(read->segments[2].trunk->twist_range.reason == "she turns");
    }
}

TEST_CASE("a turn beyond half a circle keeps its direction: angles stay in range, whole turns stand beside them") {
    struct Written {
        double turned, turn_deg;
        std::optional<int> full_turns;
    };
    for (const Written& one :
         {Written{268, -92, 1}, Written{360, 0, 1}, Written{-360, 0, -1}, Written{-270, 90, -1}, Written{-180, 180, -1},
          Written{180, 180, {}}, Written{88, 88, {}}, Written{450, 90, 1}}) {
        CAPTURE(one.turned);
        Analysis analysis = with_everything();
        analysis.segments[2].turn_deg = {one.turned, ""};
        const std::string text = write_analysis(analysis, false);
        CHECK(schema_problems(schema, text) == "");
        const auto turn = nlohmann::json::parse(text)["segments"][2];
        CHECK(turn["turn_deg"] == one.turn_deg);
        CHECK(turn.contains("full_turns") == one.full_turns.has_value());
        if (one.full_turns) CHECK(turn["full_turns"] == *one.full_turns);
        const auto read = read_analysis(text);
        REQUIRE(read);
        CHECK(read->segments[2].turn_deg.value == doctest::Approx(one.turned));
    }
}
