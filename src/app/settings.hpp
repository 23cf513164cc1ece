#pragma once
/// What a person sets once, in settings.json in the settings folder.
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "app/keys.hpp"
#include "app/palette.hpp"
#include "base/result.hpp"

namespace quarterturn::app {

struct Settings {
    Theme theme = Theme::light;
    double text_scale = 1;    ///< on top of the screen's own scale, 0.75 .. 2
    std::string author_name;  ///< empty: the library's athlete
    bool author_is_coach = false;
    bool sound = true;
    std::string last_library;         ///< folder; empty: the default place
    std::vector<std::string> places;  ///< where the person took films from, latest first
    std::string extras;               ///< fields this version does not know, JSON text of an object
    bool operator==(const Settings&) const = default;
};

[[nodiscard]] std::string write_settings(const Settings& settings);
/// Values out of range fall back to the default. @error bad_input, newer_version
[[nodiscard]] Result<Settings> read_settings(std::string_view text);

/// settings.json and keys.json of a folder.
struct Preferences {
    Settings settings;
    Keymap keymap;
    std::vector<Error> troubles;  ///< files that were there and could not be understood; they are left untouched
};
/// Missing files give the defaults; keys.json is written when it is missing, so that it can be changed.
[[nodiscard]] Preferences load_preferences(const std::filesystem::path& folder);
[[nodiscard]] Status save_settings(const std::filesystem::path& folder, const Settings& settings);

}  // namespace quarterturn::app
