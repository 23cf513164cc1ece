#include "app/keys.hpp"

#include <doctest.h>

#include <set>

#include "app/settings.hpp"
#include "base/file.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::app;
using quarterturn::test::TemporaryFolder;

TEST_CASE("every action has a key, and no key does two things") {
    const Keymap keymap;
    std::set<Chord> taken;
    std::size_t chords = 0;
    for (const ActionInfo& info : actions()) {
        CHECK_FALSE(keymap.chords_of(info.action).empty());
        for (const Chord& chord : keymap.chords_of(info.action)) taken.insert(chord), ++chords;
        CHECK(find_action(info.id) == info.action);
    }
    CHECK(taken.size() == chords);
}

TEST_CASE("chords are read as they are written") {
    for (const char* text : {"Space", "Ctrl+Shift+Z", "Alt+Left", "Plus", "Minus", "F5", "Ctrl+Plus"})
        CHECK(chord_text(*parse_chord(text)) == text);
    CHECK(chord_text(*parse_chord("ctrl")) == "ctrl");
    CHECK(parse_chord("Ctrl+z")->key == "Z");
    CHECK(parse_chord("+")->key == "Plus");
    CHECK(parse_chord("Meta+Z").error().code == ErrorCode::bad_input);
    CHECK(parse_chord("").error().code == ErrorCode::bad_input);
}

TEST_CASE("a person's keys replace the default ones, all others stay") {
    const auto keymap =
        read_keymap(R"({"format": "quarterturn.keys", "version": 1, "keys": {"pin_note": ["Q"], "undo": []}})");
    REQUIRE(keymap);
    CHECK(keymap->action_for(*parse_chord("Q")) == Action::pin_note);
    CHECK_FALSE(keymap->action_for(*parse_chord("N")));
    CHECK_FALSE(keymap->action_for(*parse_chord("Ctrl+Z")));
    CHECK(keymap->action_for(*parse_chord("Space")) == Action::play_or_pause);
}

TEST_CASE("what is wrong with a list of keys is said by name") {
    CHECK(read_keymap("[1]").error().code == ErrorCode::bad_input);
    CHECK(read_keymap(R"({"format": "quarterturn.keys", "version": 2})").error().code == ErrorCode::newer_version);
    const auto twice =
        read_keymap(R"({"format": "quarterturn.keys", "version": 1, "keys": {"undo": ["Q"], "redo": ["Q"]}})");
    CHECK(twice.error().detail.find("undo") != std::string::npos);
    CHECK(twice.error().detail.find("redo") != std::string::npos);
    const auto unknown = read_keymap(R"({"format": "quarterturn.keys", "version": 1, "keys": {"fly": ["Q"]}})");
    CHECK(unknown.error().detail.find("fly") != std::string::npos);
}

TEST_CASE("keys and settings survive a round trip, with fields this version does not know") {
    CHECK(write_keymap(*read_keymap(write_keymap(Keymap{}))) == write_keymap(Keymap{}));
    const auto settings = read_settings(
        R"({"format": "quarterturn.settings", "version": 1, "theme": "dark", "text_scale": 9, "colour_of_walls": "blue"})");
    REQUIRE(settings);
    CHECK(settings->theme == Theme::dark);
    CHECK(settings->text_scale == 1);
    CHECK(write_settings(*settings).find("colour_of_walls") != std::string::npos);
    CHECK(*read_settings(write_settings(*settings)) == *settings);
}

TEST_CASE("a damaged settings file is reported and left as it is") {
    const TemporaryFolder folder;
    REQUIRE(write_file(folder.path() / "settings.json", "{ this is not"));
    const Preferences preferences = load_preferences(folder.path());
    CHECK(preferences.troubles.size() == 1);
    CHECK(*read_file(folder.path() / "settings.json") == "{ this is not");
    CHECK(read_file(folder.path() / "keys.json").has_value());
}
