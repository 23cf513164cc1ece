#include "share/film_files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <chrono>

#include "base/file.hpp"
#include "journal/cache.hpp"
#include "media/fingerprint_of.hpp"
#include "media/probe.hpp"

namespace quarterturn::share {
namespace {

namespace fs = std::filesystem;

bool looks_like_film(const fs::path& file) {
    constexpr std::array<std::string_view, 12> endings{".mp4", ".mov", ".m4v",  ".mkv", ".webm", ".avi",
                                                       ".ts",  ".mts", ".m2ts", ".3gp", ".mpg",  ".mjpeg"};
    std::string ending = file.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return std::find(endings.begin(), endings.end(), ending) != endings.end();
}

bool hidden(const fs::path& path) {
    return path.filename().string().starts_with('.');
}

Status collect(const fs::path& folder, std::vector<fs::path>& files) {
    std::error_code failure;
    fs::recursive_directory_iterator walk{folder, failure};
    for (; !failure && walk != fs::recursive_directory_iterator{}; walk.increment(failure)) {
        if (hidden(walk->path())) {
            if (walk->is_directory(failure)) walk.disable_recursion_pending();
            continue;
        }
        if (walk->is_regular_file(failure) && looks_like_film(walk->path())) files.push_back(walk->path());
    }
    if (failure) return system_error(failure.value(), "read", folder);
    return ok();
}

Instant modified(const fs::path& file) {
    std::error_code failure;
    const auto time = fs::last_write_time(file, failure);
    if (failure) return Instant{};
    return std::chrono::time_point_cast<std::chrono::milliseconds>(std::chrono::file_clock::to_sys(time));
}

Result<std::string> fingerprint(const fs::path& file, const journal::Store& store, const std::stop_token& stop) {
    const journal::Cache cache{store.cache_folder()};
    if (auto known = cache.known_fingerprint(file)) return *known;
    auto fresh = media::fingerprint_of(file, stop);
    // The cache only saves time; nothing is lost when it cannot be written.
    if (fresh) (void)cache.remember_fingerprint(file, *fresh).has_value();
    return fresh;
}

}  // namespace

Result<std::vector<fs::path>> film_files(const std::vector<fs::path>& given) {
    std::vector<fs::path> files;
    for (const fs::path& path : given) {
        std::error_code failure;
        if (!fs::exists(path, failure)) return system_error(failure ? failure.value() : ENOENT, "add", path);
        if (!fs::is_directory(path, failure)) {
            files.push_back(path);
        } else if (Status collected = collect(path, files); !collected) {
            return collected.error();
        }
    }
    for (fs::path& file : files) file = fs::absolute(file).lexically_normal();
    std::sort(files.begin(), files.end());
    files.erase(std::unique(files.begin(), files.end()), files.end());
    return files;
}

Result<journal::ClipFacts> clip_facts(const fs::path& file, const journal::Store& store, std::stop_token stop) {
    const auto info = media::probe(file);
    if (!info) return info.error();
    const auto print = fingerprint(file, store, stop);
    if (!print) return print.error();
    journal::ClipFacts facts;
    facts.fingerprint = *print;
    facts.path = file;
    facts.file_bytes = info->file_bytes;
    facts.file_modified = modified(file);
    facts.recorded_at = info->recorded_at;
    if (info->average_rate > 0) facts.stored_rate = info->average_rate;
    facts.capture_rate = info->capture_rate;
    return facts;
}

}  // namespace quarterturn::share
