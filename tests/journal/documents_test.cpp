#include "journal/documents.hpp"

#include <doctest.h>
#include <rapidcheck.h>

#include <nlohmann/json.hpp>

#include "library_fixture.hpp"
#include "samples.hpp"
#include "schema_check.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;
using nlohmann::json;

namespace {

template <class Read, class Entry>
void check_round_trip(Read read, const Entry& entry, const char* schema) {
    const std::string text = write_text(entry);
    CAPTURE(text);
    const auto again = read(text);
    REQUIRE(again);
    CHECK(*again == entry);
    CHECK(schema_problems(schema, text) == "");
}

/// The document with one field set to what `value` is the JSON text of; "" takes it away.
template <class Entry>
std::string with_field(const Entry& entry, const std::string& pointer, const std::string& value) {
    json document = json::parse(write_text(entry));
    const json::json_pointer place{pointer};
    if (value.empty()) {
        document[place.parent_pointer()].erase(place.back());
    } else {
        document[place] = json::parse(value);
    }
    return document.dump();
}

std::string complaint(const Result<Note>& note) {
    return note ? "fine" : note.error().detail;
}

}  // namespace

TEST_CASE("each kind of document reads back as it was and keeps to its schema") {
    check_round_trip(read_library_facts, sample_library(), "library.schema.json");
    check_round_trip(read_athlete, sample_athlete(), "athlete.schema.json");
    check_round_trip(read_season, sample_season(), "season.schema.json");
    check_round_trip(read_session, sample_session(), "session.schema.json");
    check_round_trip(read_clip, sample_clip(), "clip.schema.json");
    check_round_trip(read_note, sample_note(), "note.schema.json");
    check_round_trip(read_mark_sheet, sample_marks(), "marks.schema.json");
    check_round_trip(read_hold_correction, sample_correction(), "hold_correction.schema.json");
    check_round_trip(read_pin, sample_pin(), "pin.schema.json");
}

TEST_CASE("unknown fields survive at every level") {
    json document = json::parse(write_text(sample_note()));
    document["mood"] = "good";
    document["author"]["address"] = json{{"city", "?"}};
    document["moment"]["time_base"]["exact"] = true;
    document["moment"]["frame"] = 7;
    document["drawings"][0]["new"] = json::array({1});
    const json again = json::parse(write_text(read_note(document.dump()).value()));
    CHECK(again == document);

    json sheet = json::parse(write_text(sample_marks()));
    sheet["panel"] = 3;
    sheet["marks"][0]["colour"] = "red";
    CHECK(json::parse(write_text(read_mark_sheet(sheet.dump()).value())) == sheet);
}

TEST_CASE("unknown fields survive an edit by this program") {
    LibraryFixture library;
    const Note note = library.store.add_note(library.note("one"), athlete).value();
    const auto path = library.store.folder() / "journal" / "notes" / (note.id + ".json");
    json document = json::parse(read_file(path).value());
    document["mood"] = "good";
    REQUIRE(write_file(path, document.dump()));
    Note read = library.read().notes.front();
    read.text = "two";
    read.extras.clear();  // a program that does not carry them does not lose them
    REQUIRE(library.store.edit_note(read, coach));
    document = json::parse(read_file(path).value());
    CHECK(document["mood"] == "good");
    CHECK(document["text"] == "two");
}

TEST_CASE("a wrong field is named") {
    const Note note = sample_note();
    CHECK(complaint(read_note(with_field(note, "/topic", "\"hats\""))) ==
          "topic: must be one of transition, hands, twist_versus_sway, walk, feet, face, conditioning, other");
    CHECK(complaint(read_note(with_field(note, "/text", ""))) == "text: is missing; it must be text");
    CHECK(complaint(read_note(with_field(note, "/id", "\"../x\""))) ==
          "id: must be an id (8-4-4-4-12 hexadecimal digits)");
    CHECK(complaint(read_note(with_field(note, "/moment/time_base/den", "0"))) ==
          "moment.time_base.den: must be at least 1");
    CHECK(complaint(read_note(with_field(note, "/moment/start_pts", "1.5"))) ==
          "moment.start_pts: must be a whole number");
    CHECK(complaint(read_note(with_field(note, "/moment/start_pts", "9223372036854775808"))) ==
          "moment.start_pts: must be a whole number");
    CHECK(complaint(read_note(with_field(note, "/edits/somewhere", "0"))) == "edits.somewhere: must be at least 1");
    CHECK(complaint(read_note(with_field(note, "/clip", "null"))) == "moment: needs a clip");
    CHECK(complaint(read_note(with_field(note, "/drawings", "[1]"))) == "drawings[0]: must be an object in braces");
    CHECK(complaint(read_note("[]")) == "the document: must be an object in braces");
}

TEST_CASE("a clip's path does not lead out of the library") {
    const Clip clip = sample_clip();
    CHECK_FALSE(read_clip(with_field(clip, "/path", "\"../other/x.mp4\"")));
    CHECK_FALSE(read_clip(with_field(clip, "/path", "\"clips/../../x.mp4\"")));
    CHECK_FALSE(read_clip(with_field(clip, "/path", "\"\"")));
    CHECK(read_clip(with_field(clip, "/path", "\"/films/x.mp4\"")));
    CHECK(read_clip(with_field(clip, "/path", "\"clips/..x.mp4\"")));
}

TEST_CASE("a film that is level is told apart from one whose tilt nobody set, in old documents too") {
    Clip clip = sample_clip();
    clip.tilt_deg = 0;
    check_round_trip(read_clip, clip, "clip.schema.json");
    CHECK(read_clip(write_text(clip))->tilt_deg == 0);
    clip.tilt_deg.reset();
    check_round_trip(read_clip, clip, "clip.schema.json");
    CHECK_FALSE(read_clip(with_field(clip, "/tilt_deg", ""))->tilt_deg);
    // Version 1 wrote 0 when nobody had set a tilt.
    const auto read_old = [&](const char* tilt) {
        json old = json::parse(with_field(clip, "/tilt_deg", tilt));
        old["version"] = 1;
        return read_clip(old.dump());
    };
    CHECK_FALSE(read_old("0")->tilt_deg);
    CHECK_FALSE(read_old("0.0")->tilt_deg);
    CHECK_FALSE(read_old("")->tilt_deg);
    CHECK(read_old("-1.5")->tilt_deg == -1.5);
    CHECK_FALSE(read_old("\"level\""));
    CHECK_FALSE(read_old("90"));
}

TEST_CASE("a pin must carry what its kind needs, about two clips") {
    const Pin holds = sample_pin();
    CHECK_FALSE(read_pin(with_field(holds, "/now/hold", "null")));
    CHECK_FALSE(read_pin(with_field(holds, "/kind", "\"alone\"")));
    CHECK_FALSE(read_pin(with_field(holds, "/kind", "\"moments\"")));
    CHECK_FALSE(read_pin(with_field(holds, "/before/clip", '"' + holds.now.clip + '"')));
    Pin alone = holds;
    alone.kind = PinKind::alone;
    alone.before.hold.reset();
    CHECK(read_pin(write_text(alone)));
    CHECK(read_pin(with_field(holds, "/now/shade", "7"))->extras.find("shade") != std::string::npos);
}

TEST_CASE("a correction must carry what its kind needs") {
    const HoldCorrection split = sample_correction();
    CHECK_FALSE(read_hold_correction(with_field(split, "/at_pts", "")));
    CHECK_FALSE(read_hold_correction(with_field(split, "/at_pts", "5")));  // outside the hold
    CHECK_FALSE(read_hold_correction(with_field(split, "/about", "null")));
    CHECK_FALSE(read_hold_correction(with_field(split, "/kind", "\"bounds\"")));
}

TEST_CASE("a sheet with two marks for one item is refused") {
    json sheet = json::parse(write_text(sample_marks()));
    sheet["marks"].push_back(sheet["marks"][0]);
    CHECK(read_mark_sheet(sheet.dump()).error().detail == "marks: must not hold the same pose and item twice");
}

TEST_CASE("text in any language, with line ends and signs of every plane, is kept") {
    Note note = sample_note();
    note.text = "Händé tiefer\n手を下げて\t«ниже» \U0001F64C \"<script>\" \\ \x01";
    CHECK(read_note(write_text(note))->text == note.text);
}

TEST_CASE("whatever a note says, it reads back the same") {
    const bool held = rc::check([] {
        Note note = sample_note();
        note.text = "x" + *rc::gen::string<std::string>();
        note.moment->start_pts = *rc::gen::arbitrary<std::int64_t>() / 2;
        note.moment->end_pts = note.moment->start_pts + *rc::gen::inRange<std::int64_t>(1, 1'000'000);
        note.done = *rc::gen::arbitrary<bool>();
        note.edits["0123456789abcdef"] = *rc::gen::inRange<std::int64_t>(1, 1'000'000'000);
        const auto again = read_note(write_text(note));
        // Ill-formed UTF-8 never comes through as something else unnoticed: the store compares and refuses.
        RC_ASSERT(again.has_value());
        if (*again == note) RC_SUCCEED("same");
        RC_ASSERT(again->text != note.text);
    });
    CHECK(held);
}

TEST_CASE("whatever marks are given, the sheet reads back the same") {
    const bool held = rc::check([] {
        MarkSheet sheet = sample_marks();
        sheet.marks.clear();
        const int count = *rc::gen::inRange(0, 20);
        for (int i = 0; i < count; ++i) {
            Mark mark = sample_marks().marks.front();
            mark.item = "item_" + std::to_string(100 + i);
            mark.value =
                *rc::gen::maybe(rc::gen::inRange(0, 5)) ? std::optional<int>{*rc::gen::inRange(0, 5)} : std::nullopt;
            mark.measured = *rc::gen::arbitrary<double>();
            mark.edits = *rc::gen::inRange<std::int64_t>(1, 1000);
            sheet.marks.push_back(mark);
        }
        RC_ASSERT(read_mark_sheet(write_text(sheet)).value() == sheet);
    });
    CHECK(held);
}

TEST_CASE("a document cut short or with any byte changed is read or refused, never worse") {
    const std::string text = write_text(sample_note());
    for (std::size_t length = 0; length < text.size(); ++length) (void)read_note(text.substr(0, length)).has_value();
    CHECK_FALSE(read_note(text.substr(0, text.size() / 2)));
    const bool held = rc::check([&] {
        std::string damaged = text;
        damaged[*rc::gen::inRange<std::size_t>(0, text.size())] = *rc::gen::arbitrary<char>();
        const auto read = read_note(damaged);
        if (read) RC_ASSERT(read_note(write_text(*read)).value() == *read);
    });
    CHECK(held);
}
