#include "app/settings.hpp"

#include <nlohmann/json.hpp>

#include "base/file.hpp"

namespace quarterturn::app {
namespace {

using nlohmann::json;

template <class T>
T value_or(json& document, const char* name, T otherwise) {
    const auto found = document.find(name);
    if (found == document.end()) return otherwise;
    T value = otherwise;
    if constexpr (std::is_same_v<T, std::string>) {
        if (found->is_string()) value = found->get<std::string>();
    } else if constexpr (std::is_same_v<T, bool>) {
        if (found->is_boolean()) value = found->get<bool>();
    } else {
        if (found->is_number()) value = found->get<double>();
    }
    document.erase(found);
    return value;
}

std::vector<std::string> texts_of(json& document, const char* name) {
    std::vector<std::string> texts;
    if (const auto found = document.find(name); found != document.end()) {
        if (found->is_array())
            for (const json& entry : *found)
                if (entry.is_string()) texts.push_back(entry.get<std::string>());
        document.erase(found);
    }
    return texts;
}

}  // namespace

std::string write_settings(const Settings& settings) {
    json document = json::parse(settings.extras.empty() ? "{}" : settings.extras, nullptr, false);
    if (!document.is_object()) document = json::object();
    document["format"] = "quarterturn.settings";
    document["version"] = 1;
    document["theme"] = settings.theme == Theme::light ? "light" : "dark";
    document["text_scale"] = settings.text_scale;
    document["author_name"] = settings.author_name;
    document["author_is_coach"] = settings.author_is_coach;
    document["sound"] = settings.sound;
    document["last_library"] = settings.last_library;
    document["places"] = settings.places;
    return document.dump(2, ' ', false, json::error_handler_t::replace) + "\n";
}

Result<Settings> read_settings(std::string_view text) {
    json document = json::parse(text, nullptr, false);
    if (!document.is_object() || value_or<std::string>(document, "format", "") != "quarterturn.settings")
        return Error{ErrorCode::bad_input,
                     "settings.json is not a settings file. Move it away and the program writes a new one."};
    if (value_or<double>(document, "version", 1) > 1)
        return Error{ErrorCode::newer_version, "settings.json was written by a newer version of the program."};
    Settings settings;
    settings.theme = value_or<std::string>(document, "theme", "light") == "dark" ? Theme::dark : Theme::light;
    settings.text_scale = value_or<double>(document, "text_scale", 1);
    if (!(settings.text_scale >= 0.75 && settings.text_scale <= 2)) settings.text_scale = 1;
    settings.author_name = value_or<std::string>(document, "author_name", "");
    settings.author_is_coach = value_or<bool>(document, "author_is_coach", false);
    settings.sound = value_or<bool>(document, "sound", true);
    settings.last_library = value_or<std::string>(document, "last_library", "");
    settings.places = texts_of(document, "places");
    if (!document.empty()) settings.extras = document.dump();
    return settings;
}

Preferences load_preferences(const std::filesystem::path& folder) {
    Preferences preferences;
    if (const auto text = read_file(folder / "settings.json", 1U << 20U)) {
        auto settings = read_settings(*text);
        if (settings)
            preferences.settings = *settings;
        else
            preferences.troubles.push_back(settings.error());
    } else if (text.error().code != ErrorCode::not_found) {
        preferences.troubles.push_back(text.error());
    }
    if (const auto text = read_file(folder / "keys.json", 1U << 20U)) {
        auto keymap = read_keymap(*text);
        if (keymap)
            preferences.keymap = *keymap;
        else
            preferences.troubles.push_back(keymap.error());
    } else if (text.error().code == ErrorCode::not_found) {
        Status made = make_folder(folder);
        if (made) made = write_file(folder / "keys.json", write_keymap(preferences.keymap));
        if (!made) preferences.troubles.push_back(made.error());
    } else {
        preferences.troubles.push_back(text.error());
    }
    return preferences;
}

Status save_settings(const std::filesystem::path& folder, const Settings& settings) {
    if (auto made = make_folder(folder); !made) return made;
    return write_file(folder / "settings.json", write_settings(settings));
}

}  // namespace quarterturn::app
