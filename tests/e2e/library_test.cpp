/// A library from the command line, from nothing to a backup.
#include <doctest.h>
#include <sys/stat.h>

#include <nlohmann/json.hpp>

#include "e2e/program.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn::test;
using nlohmann::json;

namespace {

/// A library "lib" with a season, and one film added on a given day.
struct Practice {
    TemporaryFolder folder;
    Practice() {
        REQUIRE(!make_film(folder.path(), "monday.mp4").empty());
        must({"create", "lib", "--athlete", "Mira", "--height-cm", "168"});
        must({"season", "start", "Spring", "--show-date", "2027-05-29", "--division", "womens_figure"});
        must({"add", "monday.mp4", "--date", "2027-03-06"});
    }
    [[nodiscard]] Ran run(std::vector<std::string> arguments) const {
        if (arguments.front() != "create") arguments.insert(arguments.begin(), {"--library", "lib"});
        return run_quarterturn(arguments, folder.path());
    }
    std::string must(const std::vector<std::string>& arguments) const {
        const Ran ran = run(arguments);
        CAPTURE(ran.err);
        REQUIRE(ran.exit == 0);
        return ran.out;
    }
    [[nodiscard]] json listed(const std::string& what) const { return json::parse(must({what, "list", "--json"})); }
};

}  // namespace

TEST_CASE("a note is pinned to the exact picture and survives editing, ticking off and removal") {
    const Practice practice;
    practice.must({"note", "add", "Ellbogen höher \xF0\x9F\x92\xAA", "--clip", "monday.mp4", "--at", "1.0", "--topic",
                   "hands", "--pose", "quarter_front"});
    json notes = practice.listed("note");
    REQUIRE(notes.size() == 1);
    CHECK(notes[0]["text"] == "Ellbogen höher \xF0\x9F\x92\xAA");
    CHECK(notes[0]["moment"]["start_pts"] == 15360);
    CHECK(notes[0]["moment"]["start_s"] == doctest::Approx(1.0));
    CHECK(notes[0]["author"]["name"] == "Mira");
    const std::string id = notes[0]["id"];
    practice.must({"--author", "Joss", "--role", "coach", "note", "edit", id, "--text", "higher"});
    practice.must({"note", "done", id});
    notes = practice.listed("note");
    CHECK(notes[0]["text"] == "higher");
    CHECK(notes[0]["done"] == true);
    practice.must({"note", "remove", id});
    CHECK(practice.listed("note").empty());
}

TEST_CASE("a note outside the film is refused") {
    const Practice practice;
    const Ran ran = practice.run({"note", "add", "late", "--clip", "monday.mp4", "--at", "99"});
    CHECK(ran.exit == 4);
    CHECK(ran.err.find("outside the film") != std::string::npos);
}

TEST_CASE("marks of athlete and coach stand beside each other and make a score") {
    const Practice practice;
    practice.must({"mark", "set", "quarter_front", "shoulders_level", "3"});
    practice.must({"--author", "Joss", "--role", "coach", "mark", "set", "quarter_front", "shoulders_level", "1"});
    const json marks = json::parse(practice.must({"mark", "list", "--json"}));
    REQUIRE(marks.size() == 2);
    const std::string table = practice.must({"mark", "list"});
    CHECK(table.find("athlete: 75 %") != std::string::npos);
    CHECK(table.find("coach: 25 %") != std::string::npos);
    CHECK(practice.run({"mark", "set", "quarter_front", "no_such_item", "3"}).exit == 3);
    CHECK(practice.run({"mark", "set", "quarter_front", "shoulders_level", "5"}).exit == 2);
    practice.must({"mark", "clear", "quarter_front", "shoulders_level"});
    CHECK(practice.must({"mark", "list"}).find("athlete: no marks") != std::string::npos);
}

TEST_CASE("adding a folder again takes only what is new") {
    const Practice practice;
    std::filesystem::create_directory(practice.folder.path() / "roll");
    std::filesystem::copy(practice.folder.path() / "monday.mp4", practice.folder.path() / "roll" / "again.mp4");
    REQUIRE(!make_film(practice.folder.path(), "roll/VID_20270308_101500.mp4", "-crf 30").empty());
    practice.must({"add", "roll"});
    CHECK(practice.listed("clip").size() == 2);
    practice.must({"add", "roll"});
    CHECK(practice.listed("clip").size() == 2);
    const json sessions = practice.listed("session");
    REQUIRE(sessions.size() == 2);
    CHECK(sessions[1]["date"] == "2027-03-08");
    CHECK(sessions[1]["date_guessed"] == true);
    practice.must({"session", "change", "2027-03-08", "--date", "2027-03-09"});
    CHECK(practice.listed("session")[1]["date_guessed"] == false);
}

TEST_CASE("a moved film is found by check, a changed one is reported, and a backup holds both") {
    const Practice practice;
    CHECK(practice.run({"check"}).exit == 0);
    practice.must({"backup", "copy"});
    CHECK(run_quarterturn({"--library", "copy", "check"}, practice.folder.path()).exit == 0);
    struct stat facts {};
    REQUIRE(::stat((practice.folder.path() / "copy").c_str(), &facts) == 0);
    CHECK((facts.st_mode & 0777U) == 0700U);
    std::filesystem::create_directory(practice.folder.path() / "elsewhere");
    std::filesystem::rename(practice.folder.path() / "monday.mp4", practice.folder.path() / "elsewhere" / "x.mp4");
    const Ran moved = practice.run({"check", "--look-in", "elsewhere"});
    CHECK(moved.exit == 9);
    CHECK(moved.out.find("x.mp4") != std::string::npos);
    CHECK(practice.run({"backup", "copy"}).exit == 6);
}

TEST_CASE("mistakes are told apart by exit code") {
    const TemporaryFolder folder;
    CHECK(run_quarterturn({"note", "list"}, folder.path()).exit == 3);
    CHECK(run_quarterturn({"no_such_command"}, folder.path()).exit == 2);
    CHECK(run_quarterturn({"--version"}, folder.path()).exit == 0);
    CHECK(run_quarterturn({"--help"}, folder.path()).out.find("Exit codes") != std::string::npos);
    const Practice practice;
    CHECK(practice.run({"create", "lib"}).exit == 6);
    CHECK(practice.run({"season", "start", "x", "--show-date", "2027-02-30", "--division", "womens_figure"}).exit == 4);
    CHECK(practice.run({"season", "start", "x", "--show-date", "2027-03-30", "--division", "no_such"}).exit == 3);
}

TEST_CASE("the size of the landmark model is chosen once for the library") {
    const Practice practice;
    CHECK(practice.must({"athlete", "show"}).find("full (default)") != std::string::npos);
    practice.must({"athlete", "change", "--measure-with", "lite", "--height-cm", "169"});
    const std::string shown = practice.must({"athlete", "show"});
    CHECK(shown.find("landmark model: lite") != std::string::npos);
    CHECK(shown.find("169 cm") != std::string::npos);
    CHECK(practice.run({"athlete", "change", "--measure-with", "huge"}).exit == 2);
}
