#include "posing/analysis_json.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "schema_check.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;
using test::schema_problems;

namespace {

constexpr const char* schema = "analysis.schema.json";

Segment a_hold(double start, double end) {
    Segment hold;
    hold.kind = SegmentKind::hold;
    hold.start_s = start;
    hold.end_s = end;
    hold.start_pts = std::llround(start * 1000);
    hold.end_pts = std::llround(end * 1000);
    hold.pose = "quarter_front";
    hold.pose_confidence = 0.93;
    hold.pose_source = PoseSource::body;
    hold.facing_deg.value = 2.13;
    hold.twist = {{std::nullopt, "a front view shows only changes"}, {3.04, ""}, {0.91, ""}};
    hold.sway = {{0.41, ""}, {1.23, ""}, {0.5, ""}};
    hold.stillness.value = 0.0123;
    hold.steadiest_pts = hold.start_pts;
    hold.checks.push_back({"shoulders_level", {1.1, ""}, "deg", 3.0, true, false, 0.8});
    hold.checks.push_back(
        {"elbows_matched", {std::nullopt, "an elbow is out of the picture"}, "deg", 5.0, {}, true, 0});
    return hold;
}

Analysis an_analysis() {
    Analysis analysis;
    analysis.clip = {"front.mp4", "sha256:" + std::string(64, 'a'), 20.5, 615, 432, 768, -90, {1, 90000}, 0, 1, false,
                     {}};
    analysis.method = Method::landmarks;
    analysis.rule_set = "womens_figure";
    analysis.height_cm = 170.0;
    Segment walk;
    walk.kind = SegmentKind::walk;
    walk.start_s = 0.3;
    walk.end_s = 3.9;
    walk.steps = 6;
    walk.cadence_per_min.value = 108.2;
    Segment transition;
    transition.kind = SegmentKind::transition;
    transition.start_s = 12.27;
    transition.end_s = 14.1;
    transition.turn_deg.value = 90.4;
    transition.steps = 2;
    Segment pause;
    pause.start_s = 14.1;
    pause.end_s = 16;
    analysis.segments = {walk, a_hold(4.2, 12.27), transition, pause};
    analysis.signals = {{0, 0.033}, {0.1, std::nullopt}, {2.0, -179.99}, {std::nullopt, 1.0}, {0.3, 0.4}};
    return analysis;
}

nlohmann::json document(const Analysis& analysis, bool with_signals = false) {
    return nlohmann::json::parse(write_analysis(analysis, with_signals));
}

}  // namespace

TEST_CASE("an analysis is written as the contract says") {
    const nlohmann::json out = document(an_analysis());
    CHECK(out["format"] == "quarterturn.analysis");
    CHECK(out["version"] == 1);
    CHECK(out["clip"]["time_base"]["den"] == 90000);
    CHECK(out["segments"][1]["duration_s"] == 8.07);
    CHECK(out["segments"][1]["sway"]["rms_cm"] == 0.41);
    CHECK(out["segments"][1]["twist_deg"]["absolute"].is_null());
    CHECK(out["segments"][1]["twist_deg"]["reason"] == "a front view shows only changes");
    CHECK(out["segments"][2]["turn_deg"] == 90.4);
    CHECK_FALSE(out.contains("signals"));
    CHECK(schema_problems(schema, out.dump()) == "");
}

TEST_CASE("without the height the sway is in percent of body height") {
    Analysis analysis = an_analysis();
    analysis.height_cm.reset();
    const nlohmann::json out = document(analysis, true);
    CHECK(out["segments"][1]["sway"]["rms_pct"] == 0.41);
    CHECK_FALSE(out["segments"][1]["sway"].contains("rms_cm"));
    CHECK(out["signals"].contains("sway_pct"));
    CHECK(schema_problems(schema, out.dump()) == "");
}

TEST_CASE("signals are written only when asked for, and angles stay above -180 when rounded") {
    const nlohmann::json out = document(an_analysis(), true);
    CHECK(out["signals"]["facing_deg"][1] == 180.0);
    CHECK(out["signals"]["stillness"][1].is_null());
    CHECK(schema_problems(schema, out.dump()) == "");
}

TEST_CASE("each null tells its own reason when they differ") {
    Analysis analysis = an_analysis();
    Segment& hold = analysis.segments[1];
    hold.pose.reset();
    hold.pose_reason = "no pose looks like this";
    hold.facing_deg = {std::nullopt, "the face is hidden"};
    const nlohmann::json out = document(analysis)["segments"][1];
    CHECK(out["pose"].is_null());
    CHECK(out["pose_source"].is_null());
    CHECK(out["reasons"]["pose"] == "no pose looks like this");
    CHECK(out["reasons"]["facing_deg"] == "the face is hidden");
    const Result<Analysis> back = read_analysis(write_analysis(analysis, false));
    REQUIRE(back);
    CHECK(back->segments[1].facing_deg.reason == "the face is hidden");
}

TEST_CASE("a measure that is not a finite number is absent, and odd file names stay readable text") {
    Analysis analysis = an_analysis();
    analysis.segments[1].stillness.value = std::numeric_limits<double>::quiet_NaN();
    analysis.clip.file = "caf\xe9.mp4";
    const std::string text = write_analysis(analysis, false);
    CHECK(nlohmann::json::parse(text)["segments"][1]["stillness"].is_null());
    CHECK(schema_problems(schema, text) == "");
}

TEST_CASE("the schema catches what a wrong writer would do") {
    const nlohmann::json good = document(an_analysis(), true);
    const auto broken = [&](auto change) {
        nlohmann::json copy = good;
        change(copy);
        return !schema_problems(schema, copy.dump()).empty();
    };
    CHECK(broken([](auto& d) { d["version"] = 2; }));
    CHECK(broken([](auto& d) { d["method"] = "guess"; }));
    CHECK(broken([](auto& d) { d["clip"]["fingerprint"] = "sha256:xyz"; }));
    CHECK(broken([](auto& d) { d["clip"]["file"] = "/home/film.mp4"; }));
    CHECK(broken([](auto& d) { d["clip"].erase("mirrored"); }));
    CHECK(broken([](auto& d) { d["segments"][0]["kind"] = "stroll"; }));
    CHECK(broken([](auto& d) { d["segments"][1]["facing_deg"] = -180; }));
    CHECK(broken([](auto& d) { d["segments"][1]["pose_source"] = "order"; }));  // with 0.93: too sure
    CHECK(broken([](auto& d) { d["segments"][1]["pose"] = nullptr; }));         // without a reason
    CHECK(broken([](auto& d) { d["segments"][1]["twist_deg"].erase("reason"); }));
    CHECK(broken([](auto& d) { d["segments"][1]["sway"]["rms_pct"] = 0.2; }));
    CHECK(broken([](auto& d) { d["segments"][1]["turn_deg"] = 3; }));
    CHECK(broken([](auto& d) { d["segments"][1]["checks"][1]["met"] = true; }));  // met without a value
    CHECK(broken([](auto& d) { d["segments"][2]["steps"] = nullptr; }));
    CHECK(broken([](auto& d) { d["segments"][3]["pose"] = "vacuum"; }));
    CHECK(broken([](auto& d) { d["height_cm"] = nullptr; }));  // cm without a height
    CHECK(broken([](auto& d) { d["signals"]["t_s"][0] = "0"; }));
}

TEST_CASE("a damaged document is refused with the place") {
    const auto refusal = [](auto change) {
        nlohmann::json copy = document(an_analysis(), true);
        change(copy);
        const Result<Analysis> read = read_analysis(copy.dump());
        return read ? std::string() : read.error().detail;
    };
    CHECK(refusal([](auto& d) {
              d["segments"][1]["start_s"] = "soon";
          }).find("analysis.segments[1]: start_s must be a number") != std::string::npos);
    CHECK(refusal([](auto& d) { d["segments"][3]["start_s"] = 5; }).find("segments[3]: starts before") !=
          std::string::npos);
    CHECK(refusal([](auto& d) { d["clip"]["time_base"]["den"] = 0; }).find("time_base") != std::string::npos);
    CHECK(refusal([](auto& d) { d["signals"]["twist_deg"] = nlohmann::json::array(); }).find("as long as") !=
          std::string::npos);
    CHECK(refusal([](auto& d) { d.erase("clip"); }).find("clip is missing") != std::string::npos);
    CHECK(read_analysis("").error().code == ErrorCode::bad_input);
    CHECK(read_analysis("[1, 2").error().code == ErrorCode::bad_input);
    CHECK(read_analysis("{\"format\": \"quarterturn.note\"}").error().code == ErrorCode::bad_input);
}

TEST_CASE("a newer version is refused as newer, and unknown fields are passed over") {
    nlohmann::json newer = document(an_analysis());
    newer["version"] = 2;
    CHECK(read_analysis(newer.dump()).error().code == ErrorCode::newer_version);
    nlohmann::json more = document(an_analysis());
    more["mood"] = "good";
    CHECK(read_analysis(more.dump()).has_value());
}

namespace {

rc::Gen<Measured> any_measured(double low, double high) {
    const auto value = rc::gen::map(rc::gen::inRange(0, 100001), [=](int step) {
        return Measured{low + (high - low) * step / 100000.0, ""};
    });
    const auto absent = rc::gen::element(Measured{{}, "out of the picture"}, Measured{{}, "too dark"}, Measured{});
    return rc::gen::oneOf(value, absent);
}

Segment any_hold() {
    Segment hold = a_hold(0, 0);
    hold.facing_deg = *any_measured(-180, 180);
    hold.twist = {*any_measured(-90, 90), *any_measured(0, 40), *any_measured(0, 10)};
    hold.sway = {*any_measured(0, 10), *any_measured(0, 30), *any_measured(0, 5)};
    hold.stillness = *any_measured(0, 0.1);
    if (*rc::gen::arbitrary<bool>()) {
        hold.pose_source = PoseSource::order;
        hold.pose_confidence = *rc::gen::inRange(0, 51) / 100.0;
    } else if (*rc::gen::arbitrary<bool>()) {
        hold.pose.reset();
        hold.pose_source = PoseSource::none;
        hold.pose_reason = "no pose looks like this";
    }
    if (*rc::gen::arbitrary<bool>()) hold.side = "left";
    return hold;
}

Segment any_segment() {
    Segment segment = any_hold();
    segment.kind = *rc::gen::element(SegmentKind::hold, SegmentKind::transition, SegmentKind::walk, SegmentKind::pause);
    segment.turn_deg = *any_measured(-200, 200);
    segment.cadence_per_min = *any_measured(0, 200);
    if (*rc::gen::arbitrary<bool>()) segment.steps = *rc::gen::inRange(0, 9);
    return segment;
}

}  // namespace

TEST_CASE("whatever is written is valid, reads back, and is written the same again") {
    CHECK(rc::check([] {
        Analysis analysis = an_analysis();
        analysis.segments.clear();
        double at = 0;
        const int count = *rc::gen::inRange(0, 6);
        for (int i = 0; i < count; ++i) {
            Segment segment = any_segment();
            segment.start_s = at += *rc::gen::inRange(0, 3000) / 700.0;
            segment.end_s = at += *rc::gen::inRange(1, 3000) / 700.0;
            segment.start_pts = std::llround(segment.start_s * 90000);
            segment.end_pts = std::llround(segment.end_s * 90000);
            analysis.segments.push_back(segment);
        }
        if (*rc::gen::arbitrary<bool>()) analysis.height_cm.reset();
        const bool with_signals = *rc::gen::arbitrary<bool>();
        const std::string text = write_analysis(analysis, with_signals);
        RC_ASSERT(schema_problems(schema, text) == "");
        const Result<Analysis> back = read_analysis(text);
        RC_ASSERT(back.has_value());
        RC_ASSERT(back->segments.size() == analysis.segments.size());
        for (std::size_t i = 0; i < analysis.segments.size(); ++i)
            RC_ASSERT(std::abs(back->segments[i].start_s - analysis.segments[i].start_s) <= 0.0005001);
        RC_ASSERT(write_analysis(*back, with_signals) == text);
    }));
}
