#include "samples.hpp"

#include "library_fixture.hpp"

namespace quarterturn::test {

using namespace journal;

namespace {

constexpr const char* season_id = "0190a0a0-0000-7000-8000-000000000001";
constexpr const char* session_id = "0190a0a0-0000-7000-8000-000000000002";

void fill(Record& record, const std::string& id) {
    record.id = id;
    record.edits = {{"0123456789abcdef", 3}, {"fedcba9876543210", 1}};
    record.created = a_morning();
    record.edited = a_morning() + std::chrono::milliseconds{1};
    record.author = coach;
    record.editor = athlete;
}

}  // namespace

LibraryFacts sample_library() {
    return {season_id, "Ida's practice", a_morning(), {}};
}

Athlete sample_athlete() {
    Athlete made;
    fill(made, "athlete");
    made.name = "Ida";
    made.barefoot_height_cm = 166.5;
    made.hide_body_numbers = true;
    made.model_size = "heavy";
    return made;
}

Season sample_season() {
    Season made;
    fill(made, season_id);
    made.title = "Spring";
    made.show_date = parse_date("2026-05-30").value();
    made.rule_set = "womens_figure";
    made.rule_choices = {{"heels", "together"}};
    made.barefoot_height_cm = 167;
    made.target_hold_s = {{"quarter_front", 12}};
    return made;
}

Session sample_session() {
    Session made;
    fill(made, session_id);
    made.season = season_id;
    made.date = parse_date("2026-03-07").value();
    made.date_source = DateSource::file_name;
    made.heel_height_cm = 12;
    made.title = "with new heels";
    return made;
}

Clip sample_clip() {
    Clip made;
    fill(made, fingerprint('a'));
    made.session = session_id;
    made.original_name = "VID_20260307_101500.mp4";
    made.path = "clips/VID.mp4";
    made.file_bytes = 123456789;
    made.counts = false;
    made.recorded_at = a_morning();
    made.time_scale = 0.25;
    made.speed_source = SpeedSource::tagged;
    made.mirrored = true;
    made.rotation_deg = -90;
    made.tilt_deg = -1.5;
    made.athlete_at = AthleteShown{90000, {1, 15360}, 0.25, 0.625};
    return made;
}

Note sample_note() {
    Note made;
    fill(made, "0190a0a0-0000-7000-8000-000000000003");
    made.session = session_id;
    made.clip = fingerprint('a');
    made.moment = ClipMoment{-90000, 180000, {1, 90000}};
    made.pose = "quarter_left_side";
    made.topic = Topic::twist_versus_sway;
    made.text = "shoulders turn, hips stay";
    made.done = true;
    made.drawings = {R"({"kind":"level","points":[[0.1,0.2],[0.3,0.2]]})"};
    return made;
}

MarkSheet sample_marks() {
    MarkSheet sheet;
    sheet.session = session_id;
    sheet.author = coach;
    Mark mark;
    mark.session = session_id;
    mark.author = coach;
    mark.pose = "quarter_front";
    mark.item = "stillness";
    mark.value = 3;
    mark.measured = 0.021;
    mark.unit = "body heights/s";
    mark.clip = fingerprint('a');
    mark.edits = 2;
    mark.edited = a_morning();
    sheet.marks.push_back(mark);
    mark.item = "zeal";
    mark.value = std::nullopt;
    sheet.marks.push_back(mark);
    return sheet;
}

HoldCorrection sample_correction() {
    HoldCorrection made;
    fill(made, "0190a0a0-0000-7000-8000-000000000004");
    made.clip = fingerprint('a');
    made.base = {1, 90000};
    made.kind = CorrectionKind::split;
    made.about = PtsRange{100, 200};
    made.at = 150;
    made.pose = "line_up";
    return made;
}

Pin sample_pin() {
    Pin made;
    fill(made, "0190a0a0-0000-7000-8000-000000000005");
    made.kind = PinKind::holds;
    made.now = {fingerprint('a'), {1, 90000}, PtsRange{100, 200}, std::nullopt};
    made.before = {fingerprint('b'), {1, 15360}, PtsRange{40, 90}, 50};
    return made;
}

}  // namespace quarterturn::test
