#include "library_fixture.hpp"

namespace quarterturn::test {

using namespace journal;

std::string fingerprint(char digit) {
    return "sha256:" + std::string(64, digit);
}

Instant a_morning() {
    return parse_instant("2026-03-07T10:15:00Z").value();
}

AddOptions utc() {
    AddOptions options;
    options.offset = [](Instant) { return std::chrono::minutes{0}; };
    return options;
}

ClipFacts film(char digit, const std::string& name) {
    ClipFacts facts;
    facts.fingerprint = fingerprint(digit);
    facts.path = "/films/" + name;
    facts.file_bytes = 1000;
    facts.file_modified = a_morning();
    facts.recorded_at = a_morning();
    return facts;
}

namespace {

Season a_season() {
    Season season;
    season.title = "Spring";
    season.show_date = parse_date("2026-05-30").value();
    season.rule_set = "womens_figure";
    return season;
}

}  // namespace

LibraryFixture::LibraryFixture()
    : store(Store::create(folder.path() / "library", "Ida's practice", athlete).value()),
      season(store.add_season(a_season(), athlete).value()) {
    const ClipFacts facts = film('a', "quarter turns.mp4");
    const ClipsAdded added = store.add_clips(season.id, {&facts, 1}, utc(), athlete).value();
    session = added.clips.front().session;
    clip = facts.fingerprint;
}

Note LibraryFixture::note(const std::string& text) const {
    Note note;
    note.session = session;
    note.clip = clip;
    note.moment = ClipMoment{90000, std::nullopt, {1, 90000}};
    note.pose = "quarter_front";
    note.topic = Topic::hands;
    note.text = text;
    return note;
}

}  // namespace quarterturn::test
