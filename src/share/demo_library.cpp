#include "share/demo_library.hpp"

#include <fmt/format.h>

#include <map>
#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "base/places.hpp"
#include "media/frame_index.hpp"
#include "rules/topic.hpp"
#include "share/film_files.hpp"

namespace quarterturn::share {
namespace {

using nlohmann::json;

constexpr const char* demo_title = "Demo: two invented seasons";

/// Fills an empty library from the scenario file. Its JSON comes with the program, so a missing field is a damaged
/// installation: nlohmann's exceptions are turned into one sentence at the end of the way.
class Seeder {
  public:
    Seeder(journal::Store& store, const json& scenario, const std::filesystem::path& samples, std::stop_token stop)
        : store_(store), scenario_(scenario), samples_(samples), stop_(std::move(stop)) {
        for (const auto& person : scenario_.at("people")) {
            const std::string role = person.at("role");
            people_[role] = {person.at("name"), journal::find_role(role).value_or(journal::Role::athlete)};
        }
    }

    Status seed() {
        if (Status athlete = seed_athlete(); !athlete) return athlete;
        for (const auto& season : scenario_.at("seasons")) {
            if (Status seeded = seed_season(season); !seeded) return seeded;
        }
        return ok();
    }

  private:
    Status seed_athlete() {
        auto library = store_.read();
        if (!library) return library.error();
        library->athlete.name = scenario_.at("athlete").at("name");
        library->athlete.barefoot_height_cm = scenario_.at("athlete").at("height_cm").get<double>();
        const auto kept = store_.edit_athlete(library->athlete, people_.at("athlete"));
        return kept ? ok() : Status{kept.error()};
    }

    Status seed_season(const json& entry) {
        const auto show = parse_date(entry.at("show_date").get<std::string>());
        if (!show) return show.error();
        journal::Season season;
        season.title = entry.at("title");
        season.show_date = *show;
        season.rule_set = entry.at("rule_set");
        const auto added = store_.add_season(season, people_.at("athlete"));
        if (!added) return added.error();
        for (const auto& session : entry.at("sessions")) {
            if (Status seeded = seed_session(added->id, session); !seeded) return seeded;
        }
        return ok();
    }

    Status seed_session(const std::string& season, const json& entry) {
        const auto date = parse_date(entry.at("date").get<std::string>());
        if (!date) return date.error();
        journal::AddOptions options;
        options.date = *date;
        options.heel_height_cm = entry.at("heels_cm").get<double>();
        std::vector<journal::ClipFacts> films;
        for (const auto& name : entry.at("clips")) {
            auto facts = clip_facts(samples_ / name.get<std::string>(), store_, stop_);
            if (!facts) return facts.error();
            films.push_back(std::move(*facts));
        }
        const auto added = store_.add_clips(season, films, options, people_.at("athlete"));
        if (!added) return added.error();
        std::map<std::string, journal::AddedClip> by_name;
        for (std::size_t i = 0; i < added->clips.size(); ++i) by_name.emplace(entry.at("clips")[i], added->clips[i]);
        for (const auto& note : entry.at("notes")) {
            if (Status seeded = seed_note(by_name, note); !seeded) return seeded;
        }
        return seed_marks(added->clips.front().session, entry.at("marks"));
    }

    Status seed_note(const std::map<std::string, journal::AddedClip>& clips, const json& entry) {
        const auto& clip = clips.at(entry.at("clip").get<std::string>());
        auto moment = moment_of(clip.path, entry);
        if (!moment) return moment.error();
        journal::Note note;
        note.session = clip.session;
        note.clip = clip.fingerprint;
        note.moment = *moment;
        if (entry.contains("pose")) note.pose = entry.at("pose").get<std::string>();
        note.topic = rules::find_topic(entry.at("topic").get<std::string>()).value_or(rules::Topic::other);
        note.text = entry.at("text");
        note.done = entry.value("done", false);
        const auto added = store_.add_note(note, people_.at(entry.at("author").get<std::string>()));
        return added ? ok() : Status{added.error()};
    }

    static Result<journal::ClipMoment> moment_of(const std::filesystem::path& film, const json& entry) {
        const auto index = media::build_index(film);
        if (!index) return index.error();
        const auto pts_at = [&](double seconds) {
            const auto tick = nearest_tick(seconds, index->time_base, index->pictures.front().pts);
            return index->pictures[index->rank_at(tick).value_or(0)].pts;
        };
        journal::ClipMoment moment{pts_at(entry.at("at_s").get<double>()), std::nullopt, index->time_base};
        if (entry.contains("until_s")) moment.end_pts = pts_at(entry.at("until_s").get<double>());
        return moment;
    }

    Status seed_marks(const std::string& session, const json& entries) {
        std::vector<journal::Mark> marks;
        for (const auto& entry : entries) {
            journal::Mark mark;
            mark.session = session;
            mark.pose = entry.at("pose");
            mark.item = entry.at("item");
            mark.author = people_.at(entry.at("author").get<std::string>());
            mark.value = entry.at("value").get<int>();
            marks.push_back(std::move(mark));
        }
        return store_.set_marks(marks);
    }

    journal::Store& store_;
    const json& scenario_;
    const std::filesystem::path& samples_;
    std::stop_token stop_;
    std::map<std::string, journal::Author> people_;
};

/// The library made there before, if it is whole.
std::optional<journal::Store> made_before(const std::filesystem::path& folder, const json& scenario) {
    auto store = journal::Store::open(folder);
    if (!store) return std::nullopt;
    const auto library = store->read();
    if (!library || library->title != demo_title) return std::nullopt;
    if (library->seasons.size() != scenario.at("seasons").size()) return std::nullopt;
    return std::move(*store);
}

/// Seeds beside the wanted folder and moves it there when it is whole, so that a demo that was cut short is begun anew.
Result<journal::Store> seeded(const std::filesystem::path& folder, const json& scenario,
                              const std::filesystem::path& samples, std::stop_token stop) {
    namespace fs = std::filesystem;
    if (auto store = made_before(folder, scenario)) return std::move(*store);
    std::error_code failure;
    if (fs::exists(folder, failure) && !fs::is_empty(folder, failure))
        return Error{ErrorCode::conflict,
                     fmt::format("{} holds something else; name another folder.", folder.string())};
    const fs::path place = fs::absolute(folder).lexically_normal();
    const fs::path unfinished = place.parent_path() / ("." + place.filename().string() + ".part");
    fs::remove_all(unfinished, failure);
    {
        auto store =
            journal::Store::create(unfinished, demo_title, {scenario.at("athlete").at("name"), journal::Role::athlete});
        if (!store) return store;
        Status filled = Seeder{*store, scenario, samples, std::move(stop)}.seed();
        if (!filled) {
            fs::remove_all(unfinished, failure);
            return filled.error();
        }
    }
    fs::rename(unfinished, place, failure);
    if (failure) return system_error(failure.value(), "create", place);
    return journal::Store::open(place);
}

}  // namespace

std::filesystem::path sample_clips_folder() {
    return bundled_folder("sample_clips");
}

Result<journal::Store> demo_library(const std::filesystem::path& folder, const std::filesystem::path& samples,
                                    std::stop_token stop) {
    if (samples.empty())
        return Error{ErrorCode::not_found, "The sample films are not there: neither beside the program nor installed."};
    const auto text = read_file(samples / "season.json");
    if (!text) return text.error();
    const json scenario = json::parse(*text, nullptr, false);
    try {
        return seeded(folder, scenario, samples, std::move(stop));
    } catch (const json::exception&) {
        return Error{ErrorCode::bad_input,
                     fmt::format("{} is damaged; install the program again.", (samples / "season.json").string())};
    } catch (const std::out_of_range&) {
        return Error{ErrorCode::bad_input,
                     fmt::format("{} names a clip or a person it does not list.", (samples / "season.json").string())};
    }
}

}  // namespace quarterturn::share
