#pragma once
/// Small films of every kind, made once per build tree by the ffmpeg program (tests only), and what that program says
/// about them.
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace quarterturn::test {

/// Output of a shell command. Throws with its text when it fails.
std::string run(const std::string& command);

/// A film named `name` (with extension) made by `ffmpeg -f lavfi -i SOURCE ARGUMENTS name`; kept in the build tree.
/// Placeholder "{pattern}" in `arguments` is a moving test pattern with noise, "{tone}" a sound.
std::filesystem::path film(const std::string& name, const std::string& arguments);

/// Like film(), from another film: "{in}" stands for its path.
std::filesystem::path film_from(const std::filesystem::path& source, const std::string& name,
                                const std::string& arguments);

struct FilmKind {
    std::string name;
    std::filesystem::path path;
};

/// Every kind of file the program promises to read exactly.
const std::vector<FilmKind>& film_kinds();
std::filesystem::path film_of_kind(std::string_view name);

/// All pictures as the ffmpeg program decodes them, planes packed without padding, one string per picture.
std::vector<std::string> pictures_by_ffmpeg(const std::filesystem::path& path, std::size_t bytes_per_picture);

/// Best-effort timestamps of all pictures as ffprobe prints them; nullopt where it prints N/A.
std::vector<std::optional<std::int64_t>> timestamps_by_ffprobe(const std::filesystem::path& path);

}  // namespace quarterturn::test
