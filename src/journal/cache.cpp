#include "journal/cache.hpp"

#include <fmt/format.h>
#include <sys/stat.h>

#include "base/file.hpp"
#include "base/fingerprint.hpp"
#include "rules/json_text.hpp"

namespace quarterturn::journal {
namespace {

namespace fs = std::filesystem;

std::string_view folder_of(CacheKind kind) {
    switch (kind) {
        case CacheKind::analysis:
            return "analyses";
        case CacheKind::frame_index:
            return "frame_indexes";
        case CacheKind::landmarks:
            return "landmarks";
        case CacheKind::still:
            break;
    }
    return "stills";
}

bool is_key(std::string_view key) {
    return !key.empty() && key.size() <= 120 && key.front() != '.' &&
           key.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.") ==
               std::string_view::npos;
}

/// What a file has kept when its bytes have very likely not changed. Times are kept as text: they exceed 2^53.
struct FileState {
    std::string size, modified, inode;
    bool operator==(const FileState&) const = default;
};

std::optional<FileState> state_of(const fs::path& file) {
    struct stat facts {};
    if (::stat(file.c_str(), &facts) != 0) return std::nullopt;
    return FileState{fmt::format("{}", facts.st_size),
                     fmt::format("{}.{:09}", facts.st_mtim.tv_sec, facts.st_mtim.tv_nsec),
                     fmt::format("{}:{}", facts.st_dev, facts.st_ino)};
}

/// One small file per film, so that programs never wait for each other here.
fs::path shortcut_file(const fs::path& cache, const fs::path& file) {
    std::error_code failure;
    fs::path whole = fs::canonical(file, failure);
    if (failure) whole = file;
    std::uint64_t hash = 0xCBF29CE484222325ULL;  // FNV-1a
    for (const char c : whole.native()) hash = (hash ^ static_cast<std::uint8_t>(c)) * 0x100000001B3ULL;
    return cache / "fingerprints" / fmt::format("{:016x}.json", hash);
}

}  // namespace

fs::path Cache::file(CacheKind kind, std::string_view fingerprint, std::string_view key) const {
    if (!is_fingerprint(fingerprint) || !is_key(key)) return {};
    return folder_ / folder_of(kind) / fingerprint.substr(fingerprint.find(':') + 1) / key;
}

std::vector<std::string> Cache::keys(CacheKind kind, std::string_view fingerprint) const {
    std::vector<std::string> found;
    const fs::path folder = file(kind, fingerprint, "any").parent_path();
    std::error_code failure;
    auto entry = folder.empty() ? fs::directory_iterator() : fs::directory_iterator(folder, failure);
    for (; !failure && entry != fs::directory_iterator(); entry.increment(failure))
        if (std::string name = entry->path().filename().string(); is_key(name)) found.push_back(std::move(name));
    return found;
}

std::optional<std::string> Cache::read(CacheKind kind, std::string_view fingerprint, std::string_view key) const {
    const fs::path path = file(kind, fingerprint, key);
    if (path.empty()) return std::nullopt;
    auto bytes = read_file(path, 1ULL << 30U);
    return bytes ? std::optional{*std::move(bytes)} : std::nullopt;
}

Status Cache::write(CacheKind kind, std::string_view fingerprint, std::string_view key, std::string_view bytes) const {
    const fs::path path = file(kind, fingerprint, key);
    if (path.empty())
        return Error{ErrorCode::bad_input,
                     fmt::format("\"{}\" with \"{}\" cannot name a cache entry.", fingerprint, key)};
    if (Status made = make_folder(path.parent_path()); !made) return made;
    return write_file(path, bytes);
}

std::optional<std::string> Cache::known_fingerprint(const fs::path& film) const {
    const auto now = state_of(film);
    const auto text = read_file(shortcut_file(folder_, film), 64U << 10U);
    if (!now || !text) return std::nullopt;
    const auto document = rules::parse_json(*text);
    if (!document || !document->is_object()) return std::nullopt;
    const auto field = [&](const char* name) {
        const auto found = document->find(name);
        return found != document->end() && found->is_string() ? found->get<std::string>() : std::string{};
    };
    const FileState then{field("size"), field("modified"), field("inode")};
    std::string fingerprint = field("fingerprint");
    if (!(then == *now) || !is_fingerprint(fingerprint)) return std::nullopt;
    return fingerprint;
}

Status Cache::remember_fingerprint(const fs::path& film, std::string_view fingerprint) const {
    const auto now = state_of(film);
    if (!now || !is_fingerprint(fingerprint))
        return Error{ErrorCode::bad_input, fmt::format("{} cannot be remembered.", film.string())};
    const fs::path path = shortcut_file(folder_, film);
    if (Status made = make_folder(path.parent_path()); !made) return made;
    return write_file(
        path,
        rules::json_text(
            {{"fingerprint", fingerprint}, {"size", now->size}, {"modified", now->modified}, {"inode", now->inode}}));
}

}  // namespace quarterturn::journal
