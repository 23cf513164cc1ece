#include "journal/camera_roll.hpp"

#include <doctest.h>

#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

namespace {

UtcOffset hours_ahead(int hours) {
    return [hours](Instant) { return std::chrono::hours{hours}; };
}

std::string day_of(const ClipFacts& clip, int hours = 0) {
    return format_date(date_of(clip, hours_ahead(hours)).date);
}

std::string named(const std::string& name) {
    const auto date = date_in_name(name);
    return date ? format_date(*date) : "none";
}

}  // namespace

TEST_CASE("a clip belongs to the local day of its recording") {
    ClipFacts clip = film('a', "x.mp4");
    clip.recorded_at = parse_instant("2026-03-07T23:30:00Z").value();
    CHECK(day_of(clip, 0) == "2026-03-07");
    CHECK(day_of(clip, 1) == "2026-03-08");
    CHECK(day_of(clip, -8) == "2026-03-07");
    CHECK(date_of(clip, hours_ahead(0)).source == DateSource::recording);
}

TEST_CASE("a forwarded clip without a clock takes the date in its name, else the file's") {
    ClipFacts clip = film('a', "VID_20260301_101500.mp4");
    clip.recorded_at = std::nullopt;
    CHECK(day_of(clip) == "2026-03-01");
    CHECK(date_of(clip, hours_ahead(0)).source == DateSource::file_name);
    clip.path = "/films/quarter turns.mp4";
    CHECK(day_of(clip) == "2026-03-07");
    CHECK(date_of(clip, hours_ahead(0)).source == DateSource::file_date);
}

TEST_CASE("a clock that was never set or runs ahead is not believed") {
    ClipFacts clip = film('a', "VID_20260301_101500.mp4");
    for (const char* wrong : {"1904-01-01T00:00:00Z", "1970-01-01T00:00:00Z", "2031-01-01T00:00:00Z"}) {
        CAPTURE(wrong);
        clip.recorded_at = parse_instant(wrong).value();
        CHECK(day_of(clip) == "2026-03-01");
    }
}

TEST_CASE("dates are found in file names of many kinds and nowhere else") {
    CHECK(named("VID_20260307_101500.mp4") == "2026-03-07");
    CHECK(named("2026-03-07 10.15.00.mov") == "2026-03-07");
    CHECK(named("posing 2026_03_07.mp4") == "2026-03-07");
    CHECK(named("20260307.mp4") == "2026-03-07");
    CHECK(named("take2 2026.03.07 b.mp4") == "2026-03-07");
    CHECK(named("IMG_4711.MOV") == "none");
    CHECK(named("clip 1234567890123.mp4") == "none");
    CHECK(named("20261307.mp4") == "none");    // no such month
    CHECK(named("2026-02-30.mp4") == "none");  // no such day
    CHECK(named("2026-03_07.mp4") == "none");  // mixed separators are no date
    CHECK(named("120260307.mp4") == "none");   // inside a longer number
    CHECK(named("202603071.mp4") == "none");
    CHECK(named("2026") == "none");
    CHECK(named("") == "none");
}

TEST_CASE("slow motion is known by its tag, and asked about when only the name speaks of it") {
    ClipFacts clip = film('a', "x.mp4");
    clip.stored_rate = 30;
    clip.capture_rate = 120;
    CHECK(true_speed(clip).time_scale == doctest::Approx(0.25));
    CHECK(true_speed(clip).source == SpeedSource::tagged);

    clip.capture_rate = 29.97;  // the same rate, rounded
    CHECK(true_speed(clip).time_scale == 1);

    clip.capture_rate = std::nullopt;
    CHECK_FALSE(true_speed(clip).ask);
    clip.path = "/films/SLOW_0012.mp4";
    CHECK(true_speed(clip).ask);
    clip.stored_rate = 240;  // plays every picture it filmed
    CHECK_FALSE(true_speed(clip).ask);
}

TEST_CASE("clips of one day make one session, takes are all kept") {
    LibraryFixture library;
    std::vector<ClipFacts> films{film('b', "take 1.mp4"), film('c', "take 2.mp4"), film('d', "next day.mp4")};
    films[2].recorded_at = a_morning() + std::chrono::hours{24};
    films[2].file_modified = *films[2].recorded_at;
    const ClipsAdded added = library.store.add_clips(library.season.id, films, utc(), athlete).value();
    CHECK(added.new_sessions.size() == 1);
    CHECK(added.clips[0].session == library.session);
    CHECK(added.clips[1].session == library.session);
    CHECK(added.clips[2].session == added.new_sessions.front());
    const Library read = library.read();
    CHECK(read.clips_of(library.session).size() == 3);
    CHECK(read.sessions_of(library.season.id).size() == 2);

    Clip take = *read.find_clip(fingerprint('b'));
    take.counts = false;
    REQUIRE(library.store.edit_clip(take, athlete));
    CHECK_FALSE(library.read().find_clip(fingerprint('b'))->counts);
}

TEST_CASE("adding a folder again takes only what is new") {
    LibraryFixture library;
    const std::vector<ClipFacts> films{film('a', "quarter turns.mp4"), film('b', "new.mp4"),
                                       film('b', "new (copy).mp4")};
    const ClipsAdded added = library.store.add_clips(library.season.id, films, utc(), athlete).value();
    CHECK(added.clips[0].outcome == ClipOutcome::known);
    CHECK(added.clips[1].outcome == ClipOutcome::added);
    CHECK(added.clips[2].outcome == ClipOutcome::known);
    CHECK(library.read().clips.size() == 2);
}

TEST_CASE("a removed clip comes back when it is added again, with its notes") {
    LibraryFixture library;
    REQUIRE(library.store.add_note(library.note("kept"), athlete));
    REQUIRE(library.store.remove_clip(library.clip, athlete));
    CHECK(library.read().clips.empty());
    const ClipFacts facts = film('a', "quarter turns.mp4");
    const ClipsAdded added = library.store.add_clips(library.season.id, {&facts, 1}, utc(), athlete).value();
    CHECK(added.clips[0].outcome == ClipOutcome::back);
    CHECK(library.read().notes_of_clip(library.clip).size() == 1);
}

TEST_CASE("a guessed date is marked, a given one is not") {
    LibraryFixture library;
    ClipFacts facts = film('b', "VID_20260228_080000.mp4");
    facts.recorded_at = std::nullopt;
    ClipsAdded added = library.store.add_clips(library.season.id, {&facts, 1}, utc(), athlete).value();
    CHECK(added.clips[0].date_guessed);
    CHECK(library.read().find_session(added.clips[0].session)->date_is_guessed());

    facts.fingerprint = fingerprint('c');
    AddOptions options = utc();
    options.date = parse_date("2026-02-27").value();
    added = library.store.add_clips(library.season.id, {&facts, 1}, options, athlete).value();
    CHECK_FALSE(added.clips[0].date_guessed);
    CHECK(format_date(library.read().find_session(added.clips[0].session)->date) == "2026-02-27");
}

TEST_CASE("a known clip that was moved is remembered at its new place") {
    LibraryFixture library;  // "/films/quarter turns.mp4" does not exist here
    ClipFacts facts = film('a', "quarter turns.mp4");
    facts.path = "/other/renamed.mp4";
    const ClipsAdded added = library.store.add_clips(library.season.id, {&facts, 1}, utc(), athlete).value();
    CHECK(added.clips[0].outcome == ClipOutcome::known);
    CHECK(library.read().find_clip(library.clip)->path == "/other/renamed.mp4");
}
