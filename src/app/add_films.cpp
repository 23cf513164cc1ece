#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <chrono>

#include "app/film_jobs.hpp"
#include "journal/cache.hpp"
#include "journal/store.hpp"
#include "media/fingerprint_of.hpp"
#include "media/probe.hpp"

namespace quarterturn::app {
namespace {

constexpr std::array<std::string_view, 12> film_endings{".mp4", ".mov",  ".m4v", ".mkv", ".webm", ".avi",
                                                        ".mts", ".m2ts", ".ts",  ".3gp", ".mpg",  ".mjpeg"};

bool looks_like_film(const std::filesystem::path& file) {
    std::string ending = file.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return std::find(film_endings.begin(), film_endings.end(), ending) != film_endings.end();
}

// The files named, and the films in the folders named and below.
std::vector<std::filesystem::path> films_in(const std::vector<std::filesystem::path>& given) {
    std::vector<std::filesystem::path> films;
    for (const auto& path : given) {
        std::error_code error;
        if (!std::filesystem::is_directory(path, error)) {
            films.push_back(path);
            continue;
        }
        auto entry = std::filesystem::recursive_directory_iterator(
            path, std::filesystem::directory_options::skip_permission_denied, error);
        for (; !error && entry != std::filesystem::recursive_directory_iterator(); entry.increment(error)) {
            std::error_code ignored;
            if (entry->is_regular_file(ignored) && looks_like_film(entry->path()) &&
                !entry->path().filename().string().starts_with("."))
                films.push_back(entry->path());
        }
    }
    std::sort(films.begin(), films.end());
    return films;
}

Result<journal::ClipFacts> facts_of(const std::filesystem::path& file, const journal::Cache& cache,
                                    const std::stop_token& stop) {
    const auto info = media::probe(file);
    if (!info) return info.error();
    journal::ClipFacts facts;
    if (const auto known = cache.known_fingerprint(file)) {
        facts.fingerprint = *known;
    } else {
        const auto hash = media::fingerprint_of(file, stop);
        if (!hash) return hash.error();
        facts.fingerprint = *hash;
        (void)cache.remember_fingerprint(file, *hash).has_value();  // only saves time
    }
    facts.path = file;
    facts.file_bytes = info->file_bytes;
    std::error_code error;
    const auto written = std::filesystem::last_write_time(file, error);
    if (!error)
        facts.file_modified = std::chrono::floor<std::chrono::milliseconds>(std::chrono::file_clock::to_sys(written));
    facts.recorded_at = info->recorded_at;
    if (info->average_rate > 0) facts.stored_rate = info->average_rate;
    facts.capture_rate = info->capture_rate;
    return facts;
}

}  // namespace

std::vector<std::string> add_films(NewsBox& news, const std::vector<std::filesystem::path>& files,
                                   const std::string& season, const std::filesystem::path& library_folder,
                                   const journal::Author& author, const Progress& progress,
                                   const std::stop_token& stop) {
    auto store = journal::Store::open(library_folder);
    if (!store) {
        news.post(Said{store.error().detail, true});
        return {};
    }
    const journal::Cache cache(store->cache_folder());
    std::vector<journal::ClipFacts> facts;
    const auto films = films_in(files);
    for (std::size_t i = 0; i < films.size() && !stop.stop_requested(); ++i) {
        auto one = facts_of(films[i], cache, stop);
        if (one)
            facts.push_back(std::move(*one));
        else if (one.error().code != ErrorCode::cancelled)
            news.post(Said{films[i].filename().string() + ": " + one.error().detail, true});
        progress(static_cast<double>(i + 1) / static_cast<double>(films.size()));
    }
    if (films.empty()) news.post(Said{"There is no film in there.", true});
    if (facts.empty() || stop.stop_requested()) return {};
    const auto added = store->add_clips(season, facts, {}, author);
    if (!added) {
        news.post(Said{added.error().detail, true});
        return {};
    }
    std::vector<std::string> fresh;
    bool ask_speed = false;
    for (const auto& clip : added->clips) {
        if (clip.outcome != journal::ClipOutcome::known) fresh.push_back(clip.fingerprint);
        ask_speed = ask_speed || clip.ask_speed;
    }
    const std::size_t known = added->clips.size() - fresh.size();
    news.post(Said{fmt::format("{} new, {} known already.", fresh.size(), known)});
    if (ask_speed)
        news.post(
            Said{"A film looks like slow motion without saying how slow: set its speed with the clip command, or its "
                 "times are those of the slow film."});
    return fresh;
}

}  // namespace quarterturn::app
