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
    CHECK(practice.run({"season", "start", "", "--show-date", "2027-03-30", "--division", "womens_figure"}).exit == 4);
    CHECK(
        practice.run({"season", "start", "Spring", "--show-date", "2027-05-29", "--division", "womens_figure"}).exit ==
        6);  // there is one already
    CHECK(practice.run({"season", "change", "--goal", "quarter_front=inf"}).exit == 4);
    CHECK(practice.run({"season", "change", "--goal", "quarter_front=601"}).exit == 4);
    practice.must({"season", "change", "--goal", "quarter_front=600"});
    CHECK(practice.listed("season")[0]["target_hold_s"]["quarter_front"] == 600);
}

TEST_CASE("a mistyped pose is refused, not kept where nobody finds it") {
    const Practice practice;
    const std::string clip = "monday.mp4";
    CHECK(practice.run({"note", "add", "x", "--clip", clip, "--pose", "frontt"}).exit == 3);
    CHECK(practice.listed("note").empty());
    practice.must({"note", "add", "x", "--clip", clip, "--pose", "quarter_front"});
    const std::string id = practice.listed("note")[0]["id"];
    CHECK(practice.run({"note", "edit", id, "--pose", "frontt"}).exit == 3);
    CHECK(practice.listed("note")[0]["pose"] == "quarter_front");
    CHECK(practice.run({"hold", "add", clip, "--start", "0.2", "--end", "1.4", "--pose", "frontt"}).exit == 3);
    practice.must({"hold", "add", clip, "--start", "0.2", "--end", "1.4", "--pose", "vacuum"});
    CHECK(practice.run({"hold", "relabel", clip, "frontt", "--at", "1"}).exit == 3);
    CHECK(practice.run({"hold", "bounds", clip, "--at", "1"}).exit == 4);
    CHECK(practice.run({"hold", "join", clip, "--at", "1", "--with", "1.1"}).exit == 4);
    const json holds = json::parse(practice.must({"hold", "list", clip, "--json"}));
    REQUIRE(holds.size() == 1);
    CHECK(holds[0]["pose"] == "vacuum");
}

TEST_CASE("wrong usage is said in one sentence that names what is wrong and where help is") {
    const TemporaryFolder folder;
    const auto said = [&](const std::vector<std::string>& arguments) {
        const Ran ran = run_quarterturn(arguments, folder.path());
        CHECK(ran.exit == 2);
        CHECK(ran.out.empty());
        return ran.err;
    };
    CHECK(said({"analyse", "x.mp4"}) ==
          "quarterturn: There is no command \"analyse\"; `quarterturn --help` says what there is.\n");
    CHECK(said({"season", "strat", "Spring"}) ==
          "quarterturn: There is no command \"strat\"; `quarterturn season --help` says what there is.\n");
    CHECK(said({"season"}) == "quarterturn: Name a command; `quarterturn season --help` says what there is.\n");
    CHECK(said({"analyze", "x.mp4", "--nope"}) ==
          "quarterturn: There is no option --nope here; `quarterturn analyze --help` says what there is.\n");
    CHECK(said({"analyze", "x.mp4", "y.mp4"}) ==
          "quarterturn: \"y.mp4\" is one word too many; `quarterturn analyze --help` says what there is.\n");
    CHECK(said({"analyze"}) ==
          "quarterturn: A film, --all or --session is required; `quarterturn analyze --help` says "
          "what there is.\n");
    CHECK(said({"analyze", "x.mp4", "--height-cm", "tall"}) ==
          "quarterturn: --height-cm must be a number from 50 to 260, not \"tall\"; `quarterturn analyze --help` says "
          "what "
          "there is.\n");
    CHECK(said({"mark", "set", "a", "b", "2.5"}).find("must be a whole number from 0 to 4, not \"2.5\"") !=
          std::string::npos);
}

TEST_CASE("a tilt of a clip is set, said to be level and taken back") {
    const Practice practice;
    const auto tilt = [&] { return practice.listed("clip")[0]["tilt_deg"]; };
    CHECK(tilt().is_null());
    practice.must({"clip", "change", "monday.mp4", "--tilt", "+2.5"});
    CHECK(tilt() == 2.5);
    practice.must({"clip", "change", "monday.mp4", "--tilt", "0"});
    CHECK(tilt() == 0);
    practice.must({"clip", "change", "monday.mp4", "--tilt-estimated"});
    CHECK(tilt().is_null());
    CHECK(practice.run({"clip", "change", "monday.mp4", "--tilt", "-45"}).exit == 2);
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
