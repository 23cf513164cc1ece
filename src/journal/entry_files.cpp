#include "journal/entry_files.hpp"

#include <fmt/format.h>

#include "base/fingerprint.hpp"
#include "base/id.hpp"

namespace quarterturn::journal {

std::string file_stem(std::string_view id) {
    if (id == "athlete") return "athlete";
    if (is_fingerprint(id)) return std::string{id.substr(id.find(':') + 1)};
    const auto uuid = parse_id(id);
    return uuid ? *uuid : std::string{};
}

std::vector<std::filesystem::path> documents_in(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> found;
    std::error_code failure;
    std::filesystem::directory_iterator entry{folder, failure};
    while (!failure && entry != std::filesystem::directory_iterator{}) {
        const auto& path = entry->path();
        // A name that starts with a dot is a write under way or one that was cut short.
        if (path.extension() == ".json" && !path.filename().string().starts_with('.')) found.push_back(path);
        entry.increment(failure);
    }
    std::sort(found.begin(), found.end());
    return found;
}

Error at_document(const std::filesystem::path& path, const Error& error) {
    return {error.code, fmt::format("{}: {}", path.string(), error.detail)};
}

}  // namespace quarterturn::journal
