#include "scratch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "share/demo_library.hpp"
#include "share/measure.hpp"

namespace quarterturn::test {
namespace {

namespace fs = std::filesystem;

// The sample films are silent: a tone is laid under them, so that the sound thread has something to do. Fewer pictures
// a second are measured sooner.
Status shorten(const fs::path& film, const fs::path& to, double seconds) {
    fs::create_directories(to.parent_path());
    const std::string call = fmt::format(
        "ffmpeg -nostdin -v error -y -i '{}' -f lavfi -i sine=frequency=330:sample_rate=48000 -map 0:v -map 1:a -r 15 "
        "-c:v libx264 -preset ultrafast -c:a aac -t {} '{}'",
        film.string(), seconds, to.string());
    if (std::system(call.c_str()) != 0) return Error{ErrorCode::io, "The ffmpeg program did not shorten a film."};
    return ok();
}

// Two sessions of each season, one film in each, without the notes to what was cut off.
Status keep_season(const fs::path& from, const fs::path& to, double seconds) {
    const auto text = read_file(from / "season.json", 1U << 20U);
    if (!text) return text.error();
    auto document = nlohmann::json::parse(*text, nullptr, false);
    for (auto& season : document["seasons"]) {
        auto& sessions = season["sessions"];
        while (sessions.size() > 2) sessions.erase(sessions.size() - 1);
        for (auto& session : sessions) {
            session["clips"] = nlohmann::json::array({session["clips"][0]});
            const std::string film = session["clips"][0];
            auto kept = nlohmann::json::array();
            for (const auto& note : session["notes"])
                if (std::max(note.value("at_s", 0.0), note.value("until_s", 0.0)) < seconds - 0.1 &&
                    note.value("clip", film) == film)
                    kept.push_back(note);
            session["notes"] = kept;
            if (Status made = shorten(from / film, to / film, seconds); !made) return made;
        }
    }
    for (const char* film : {"more/sway_and_twist.mp4", "more/uneven_rate.mp4"})
        if (Status made = shorten(from / film, to / film, seconds / 2); !made) return made;
    return write_file(to / "season.json", document.dump(1));
}

// One film of each season, so that there is something to look at and to compare from the start.
Status measure_first(const journal::Store& store) {
    const auto library = store.read();
    if (!library) return library.error();
    for (const auto& season : library->seasons) {
        const auto sessions = library->sessions_of(season.id);
        for (const auto& clip : library->clips)
            if (!sessions.empty() && clip.session == sessions.front()->id)
                if (auto measured = share::measure_clip(store, *library, clip, {}); !measured) return measured.error();
    }
    return ok();
}

std::string with_noise(std::string bytes, std::mt19937& random) {
    for (std::size_t i = 0; i < bytes.size() / 200; ++i) bytes[random() % bytes.size()] = static_cast<char>(random());
    return bytes;
}

Status make_broken(const fs::path& film, const fs::path& folder, std::mt19937& random) {
    const auto whole = read_file(film, 64U << 20U);
    if (!whole) return whole.error();
    const std::vector<std::pair<std::string, std::string>> files{
        {"half.mp4", whole->substr(0, whole->size() / 2)},
        {"end_missing.mp4", whole->substr(0, whole->size() - 999)},
        {"noise_1.mp4", with_noise(*whole, random)},
        {"noise_2.mp4", with_noise(*whole, random)},
        {"noise_3.mov", with_noise(*whole, random)},
        {"empty.mp4", ""},
        {"text.mp4", "not a film\n"},
        {"words.txt", "elbows down\n"},
        {"renamed film.mp4", *whole}};
    for (const auto& [name, bytes] : files)
        if (Status written = write_file(folder / name, bytes); !written) return written;
    fs::create_directories(folder / "folder of films" / "deeper");
    fs::copy_file(folder / "noise_1.mp4", folder / "folder of films" / "deeper" / "a.mp4");
    fs::copy_file(film, folder / "folder of films" / "b.mp4");
    fs::create_directories(folder / "empty folder");
    return ok();
}

}  // namespace

Result<Scratch> make_scratch(const fs::path& folder, double film_s, std::mt19937& random) {
    Scratch scratch{folder / "library", folder / "samples", {}};
    const fs::path whole = share::sample_clips_folder();
    if (whole.empty()) return Error{ErrorCode::not_found, "There are no sample films."};
    if (Status made = keep_season(whole, scratch.samples, film_s); !made) return made.error();
    const auto library = share::demo_library(scratch.library, scratch.samples);
    if (!library) return library.error();
    if (Status measured = measure_first(*library); !measured) return measured.error();
    const fs::path drops = folder / "to drop";
    fs::create_directories(drops);
    if (Status made = make_broken(scratch.samples / "more" / "sway_and_twist.mp4", drops, random); !made)
        return made.error();
    for (const auto& entry : fs::directory_iterator(drops)) scratch.to_drop.push_back(entry.path());
    for (const auto& entry : fs::directory_iterator(scratch.samples / "more")) scratch.to_drop.push_back(entry.path());
    scratch.to_drop.push_back(scratch.samples / "earlier_season");
    scratch.to_drop.push_back(folder / "not there.mp4");
    return scratch;
}

}  // namespace quarterturn::test
