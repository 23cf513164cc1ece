#include <doctest.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <set>

#include "base/date.hpp"
#include "base/file.hpp"
#include "routine.hpp"

using namespace quarterturn;
using namespace quarterturn::sample;
namespace fs = std::filesystem;

namespace {

const fs::path clips = fs::path(QUARTERTURN_SOURCE_DIR) / "sample_clips";

std::vector<fs::path> files_in(const fs::path& folder, const std::string& ending) {
    std::vector<fs::path> out;
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        if (entry.path().string().ends_with(ending)) out.push_back(entry.path());
    return out;
}

std::vector<fs::path> films() {
    std::vector<fs::path> out;
    for (const char* folder : {"this_season", "earlier_season", "more"})
        for (const fs::path& film : files_in(clips / folder, ".mp4")) out.push_back(film);
    return out;
}

}  // namespace

TEST_CASE("every script can be read and keeps what it plans") {
    const std::vector<fs::path> scripts = files_in(clips / "scripts", ".json");
    REQUIRE(scripts.size() >= 30);
    for (const fs::path& path : scripts) {
        CAPTURE(path.string());
        const Result<Script> script = load_script(path);
        REQUIRE(script);
        std::vector<std::string> planned, found;
        for (const Step& step : script->steps)
            if (step.kind == StepKind::pose) planned.push_back(step.pose.id);
        for (const TrueSegment& segment : only(true_of(*script), TrueKind::hold)) found.push_back(segment.pose);
        CHECK(planned == found);
    }
}

TEST_CASE("the truth beside every film is what its script gives") {
    REQUIRE(films().size() >= 15);
    for (const fs::path& film : films()) {
        CAPTURE(film.string());
        fs::path script_path = clips / "scripts" / fs::relative(film, clips), truth_path = film;
        script_path.replace_extension(".json");
        truth_path.replace_extension(".truth.json");
        const Result<Script> script = load_script(script_path);
        REQUIRE(script);
        const Result<std::string> shipped = read_file(truth_path);
        REQUIRE(shipped);
        CHECK(*shipped == write_truth(*script, true_of(*script), false));
    }
}

TEST_CASE("the films are small enough to ship") {
    std::uintmax_t together = 0;
    for (const fs::path& film : films()) {
        CAPTURE(film.string());
        CHECK(fs::file_size(film) < 2'000'000);
        together += fs::file_size(film);
    }
    CHECK(together < 16'000'000);
}

TEST_CASE("the sample seasons speak of films, poses and times that exist") {
    const Result<std::string> text = read_file(clips / "season.json");
    REQUIRE(text);
    const nlohmann::json season = nlohmann::json::parse(*text, nullptr, false);
    REQUIRE_FALSE(season.is_discarded());
    std::set<std::string> languages;
    for (const auto& run_up : season.at("seasons")) {
        const Result<Date> show = parse_date(run_up.at("show_date").get<std::string>());
        REQUIRE(show);
        for (const auto& session : run_up.at("sessions")) {
            const Result<Date> day = parse_date(session.at("date").get<std::string>());
            REQUIRE(day);
            CHECK(weeks_out(*day, *show) >= 0);
            for (const auto& clip : session.at("clips")) {
                CHECK(fs::exists(clips / clip.get<std::string>()));
                CHECK(fs::path(clip.get<std::string>()).filename().string().starts_with(format_date(*day)));
            }
            for (const auto& note : session.at("notes")) {
                languages.insert(note.at("language").get<std::string>());
                fs::path script = clips / "scripts" / note.at("clip").get<std::string>();
                const Result<Truth> truth = load_truth(script.replace_extension(".json"));
                REQUIRE(truth);
                CHECK(note.at("at_s").get<double>() < truth->duration_s);
                if (note.contains("pose")) CHECK(is_pose(note.at("pose").get<std::string>()));
            }
        }
    }
    CHECK(languages.size() >= 4);
}
