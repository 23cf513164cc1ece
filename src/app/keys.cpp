#include "app/keys.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "base/text.hpp"

namespace quarterturn::app {
namespace {

using enum Action;

constexpr std::array table{
    ActionInfo{play_or_pause, "play_or_pause", "Play or pause", "Playing", "Space"},
    ActionInfo{next_picture, "next_picture", "Next picture", "Playing", "Right"},
    ActionInfo{previous_picture, "previous_picture", "Previous picture", "Playing", "Left"},
    ActionInfo{one_second_on, "one_second_on", "One second on", "Playing", "Shift+Right"},
    ActionInfo{one_second_back, "one_second_back", "One second back", "Playing", "Shift+Left"},
    ActionInfo{to_start, "to_start", "To the first picture", "Playing", "Home"},
    ActionInfo{to_end, "to_end", "To the last picture", "Playing", "End"},
    ActionInfo{next_hold, "next_hold", "Next hold", "Playing", "H Down"},
    ActionInfo{previous_hold, "previous_hold", "Previous hold", "Playing", "Shift+H Up"},
    ActionInfo{next_transition, "next_transition", "Next transition", "Playing", "T"},
    ActionInfo{previous_transition, "previous_transition", "Previous transition", "Playing", "Shift+T"},
    ActionInfo{next_note, "next_note", "Next note", "Playing", "W"},
    ActionInfo{previous_note, "previous_note", "Previous note", "Playing", "Shift+W"},
    ActionInfo{slower, "slower", "Slower", "Playing", "Minus"},
    ActionInfo{faster, "faster", "Faster", "Playing", "Plus ="},
    ActionInfo{normal_speed, "normal_speed", "Normal speed", "Playing", "Backspace"},
    ActionInfo{repeat_hold, "repeat_hold", "Repeat this hold", "Playing", "R"},
    ActionInfo{repeat_from_here, "repeat_from_here", "Repeat from here", "Playing", "Shift+R"},
    ActionInfo{repeat_to_here, "repeat_to_here", "Repeat up to here", "Playing", "Ctrl+R"},
    ActionInfo{repeat_off, "repeat_off", "Stop repeating", "Playing", "Alt+R"},
    ActionInfo{pin_note, "pin_note", "Pin a note to this picture", "Notes", "N"},
    ActionInfo{stretch_from_here, "stretch_from_here", "Note over a stretch: from here", "Notes", "B"},
    ActionInfo{stretch_to_here, "stretch_to_here", "Note over a stretch: up to here", "Notes", "E"},
    ActionInfo{finish_typing, "finish_typing", "Finish typing", "Notes", "Ctrl+Enter"},
    ActionInfo{note_done, "note_done", "Note is done, or to do again", "Notes", "Shift+D"},
    ActionInfo{remove_note, "remove_note", "Remove the chosen note", "Notes", "Shift+Delete"},
    ActionInfo{search_notes, "search_notes", "Search the notes", "Notes", "Ctrl+F"},
    ActionInfo{draw_level, "draw_level", "Draw a level", "Drawing", "L"},
    ActionInfo{draw_upright, "draw_upright", "Draw an upright", "Drawing", "U"},
    ActionInfo{draw_angle, "draw_angle", "Draw a joint angle", "Drawing", "G"},
    ActionInfo{draw_ring, "draw_ring", "Draw a ring", "Drawing", "O"},
    ActionInfo{draw_arrow, "draw_arrow", "Draw an arrow", "Drawing", "A"},
    ActionInfo{draw_stroke, "draw_stroke", "Draw freely", "Drawing", "D"},
    ActionInfo{hold_starts_here, "hold_starts_here", "The hold starts here", "Holds", "Alt+Left"},
    ActionInfo{hold_ends_here, "hold_ends_here", "The hold ends here", "Holds", "Alt+Right"},
    ActionInfo{split_hold, "split_hold", "Split the hold here", "Holds", "K"},
    ActionInfo{join_hold, "join_hold", "Join the hold with the next", "Holds", "J"},
    ActionInfo{add_hold, "add_hold", "Add a hold here", "Holds", "Insert"},
    ActionInfo{remove_hold, "remove_hold", "Remove the hold", "Holds", "Delete"},
    ActionInfo{measured_hold, "measured_hold", "Back to the measured hold", "Holds", "Ctrl+Backspace"},
    ActionInfo{next_pose_name, "next_pose_name", "Name it after the next pose", "Holds", "P"},
    ActionInfo{next_item, "next_item", "Next checklist item", "Checklist", "Ctrl+Down"},
    ActionInfo{previous_item, "previous_item", "Previous checklist item", "Checklist", "Ctrl+Up"},
    ActionInfo{mark_0, "mark_0", "Mark 0", "Checklist", "0"},
    ActionInfo{mark_1, "mark_1", "Mark 1", "Checklist", "1"},
    ActionInfo{mark_2, "mark_2", "Mark 2", "Checklist", "2"},
    ActionInfo{mark_3, "mark_3", "Mark 3", "Checklist", "3"},
    ActionInfo{mark_4, "mark_4", "Mark 4", "Checklist", "4"},
    ActionInfo{turn_card, "turn_card", "Notes or checklist of the card", "Checklist", "C"},
    ActionInfo{mirror, "mirror", "Mirror the picture", "Looking", "X"},
    ActionInfo{zoom_in, "zoom_in", "Picture larger", "Looking", "PageUp"},
    ActionInfo{zoom_out, "zoom_out", "Picture smaller", "Looking", "PageDown"},
    ActionInfo{zoom_whole, "zoom_whole", "Whole picture", "Looking", "Shift+PageDown"},
    ActionInfo{ribbon_in, "ribbon_in", "Less time on the ribbon", "Looking", "Ctrl+PageUp"},
    ActionInfo{ribbon_out, "ribbon_out", "More time on the ribbon", "Looking", "Ctrl+PageDown"},
    ActionInfo{full_screen, "full_screen", "Full screen", "Looking", "F11"},
    ActionInfo{show_skeleton, "show_skeleton", "Skeleton", "Looking", "F2"},
    ActionInfo{show_plumb_line, "show_plumb_line", "Plumb line", "Looking", "F3"},
    ActionInfo{show_levels, "show_levels", "Shoulder and hip levels", "Looking", "F4"},
    ActionInfo{show_silhouette, "show_silhouette", "Outline", "Looking", "F5"},
    ActionInfo{show_thirds, "show_thirds", "Thirds", "Looking", "F6"},
    ActionInfo{show_drawings, "show_drawings", "Drawings", "Looking", "F7"},
    ActionInfo{look_beside, "look_beside", "Side by side", "Two takes", "Alt+1"},
    ActionInfo{look_over, "look_over", "Laid over each other", "Two takes", "Alt+2"},
    ActionInfo{look_edge, "look_edge", "With an edge between", "Two takes", "Alt+3"},
    ActionInfo{look_outline, "look_outline", "Outline of the earlier one", "Two takes", "Alt+4"},
    ActionInfo{look_blink, "look_blink", "Blink between the two", "Two takes", "Alt+5"},
    ActionInfo{look_more, "look_more", "More of the earlier one", "Two takes", "]"},
    ActionInfo{look_less, "look_less", "Less of the earlier one", "Two takes", "["},
    ActionInfo{align_pictures, "align_pictures", "Bring to one scale, or as filmed", "Two takes", "I"},
    ActionInfo{match_light, "match_light", "Match the light", "Two takes", "Shift+I"},
    ActionInfo{change_sync, "change_sync", "By hold, or followed throughout", "Two takes", "Y"},
    ActionInfo{earlier_sooner, "earlier_sooner", "Earlier film one picture back", "Two takes", "Ctrl+Left"},
    ActionInfo{earlier_later, "earlier_later", "Earlier film one picture on", "Two takes", "Ctrl+Right"},
    ActionInfo{offsets_off, "offsets_off", "Offsets back to none", "Two takes", "Shift+Backspace"},
    ActionInfo{pin_together, "pin_together", "Pin these two moments together", "Two takes", "M"},
    ActionInfo{unpin_moment, "unpin_moment", "Take the nearest such pin out", "Two takes", "Shift+M"},
    ActionInfo{next_counterpart, "next_counterpart", "Pair with the next earlier hold", "Two takes", "Ctrl+M"},
    ActionInfo{no_counterpart, "no_counterpart", "No earlier hold belongs to it", "Two takes", "Ctrl+Shift+M"},
    ActionInfo{choose_session, "choose_session", "Choose what to compare with", "Two takes", "F8"},
    ActionInfo{show_filmed, "show_filmed", "How the clip was filmed", "How it was filmed", "F"},
    ActionInfo{turn_film, "turn_film", "Turn the film by a quarter", "How it was filmed", "Q"},
    ActionInfo{tilt_left, "tilt_left", "Tilt it half a degree left", "How it was filmed", ","},
    ActionInfo{tilt_right, "tilt_right", "Tilt it half a degree right", "How it was filmed", "."},
    ActionInfo{tilt_estimated, "tilt_estimated", "Let the tilt be estimated", "How it was filmed", "Shift+,"},
    ActionInfo{film_speed, "film_speed", "Slow motion: how slow", "How it was filmed", "S"},
    ActionInfo{turn_mirrored_film, "turn_mirrored_film", "Mark the film as mirrored", "How it was filmed", "Shift+X"},
    ActionInfo{show_athlete, "show_athlete", "Who is the athlete", "How it was filmed", "V"},
    ActionInfo{follow_anyone, "follow_anyone", "Let the program choose again", "How it was filmed", "Shift+V"},
    ActionInfo{measure_clip, "measure_clip", "Measure the clip", "How it was filmed", "F12"},
    ActionInfo{next_clip, "next_clip", "Next clip, or session to move to", "Library", "Alt+Down"},
    ActionInfo{previous_clip, "previous_clip", "Previous clip, or session", "Library", "Alt+Up"},
    ActionInfo{open_clip, "open_clip", "Open the clip, or move it there", "Library", "Enter"},
    ActionInfo{next_season, "next_season", "Next season", "Library", "Alt+PageDown"},
    ActionInfo{previous_season, "previous_season", "Previous season", "Library", "Alt+PageUp"},
    ActionInfo{move_clip, "move_clip", "Move the clip to another session", "Library", "Alt+M"},
    ActionInfo{clip_counts, "clip_counts", "The take counts, or is left out", "Library", "Alt+C"},
    ActionInfo{take_clip_out, "take_clip_out", "Take the clip out", "Library", "Alt+Delete"},
    ActionInfo{undo, "undo", "Undo", "Everywhere", "Ctrl+Z"},
    ActionInfo{redo, "redo", "Redo", "Everywhere", "Ctrl+Shift+Z Ctrl+Y"},
    ActionInfo{go_library, "go_library", "Library", "Everywhere", "Ctrl+L"},
    ActionInfo{go_clip, "go_clip", "The open clip", "Everywhere", "Ctrl+O"},
    ActionInfo{go_pair, "go_pair", "Two takes side by side", "Everywhere", "F9"},
    ActionInfo{go_keys, "go_keys", "This page", "Everywhere", "F1"},
    ActionInfo{go_settings, "go_settings", "Settings", "Everywhere", "F10"},
    ActionInfo{leave, "leave", "Stop typing, drawing, full screen", "Everywhere", "Escape"},
};

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    while (!text.empty()) {
        const std::size_t blank = std::min(text.find(' '), text.size());
        if (blank > 0) words.emplace_back(text.substr(0, blank));
        text.remove_prefix(std::min(blank + 1, text.size()));
    }
    return words;
}

}  // namespace

std::span<const ActionInfo> actions() {
    return table;
}

std::optional<Action> find_action(std::string_view id) {
    const auto* found = std::find_if(table.begin(), table.end(), [&](const ActionInfo& a) { return a.id == id; });
    if (found == table.end()) return std::nullopt;
    return found->action;
}

Result<Chord> parse_chord(std::string_view text) {
    Chord chord;
    std::string_view rest = trimmed(text);
    for (std::size_t plus = rest.find('+'); plus != std::string_view::npos && plus > 0; plus = rest.find('+')) {
        if (plus + 1 == rest.size()) break;  // the key itself is '+'
        const std::string_view held = rest.substr(0, plus);
        if (held == "Ctrl")
            chord.ctrl = true;
        else if (held == "Shift")
            chord.shift = true;
        else if (held == "Alt")
            chord.alt = true;
        else
            return Error{ErrorCode::bad_input,
                         fmt::format("\"{}\" is not a key: write Ctrl, Shift or Alt before the +.", text)};
        rest.remove_prefix(plus + 1);
    }
    if (rest.empty()) return Error{ErrorCode::bad_input, fmt::format("\"{}\" names no key.", text)};
    chord.key = rest == "+" ? "Plus" : rest == "-" ? "Minus" : std::string(rest);
    if (chord.key.size() == 1 && chord.key[0] >= 'a' && chord.key[0] <= 'z')
        chord.key[0] = static_cast<char>(chord.key[0] - 'a' + 'A');
    return chord;
}

std::string chord_text(const Chord& chord) {
    return std::string(chord.ctrl ? "Ctrl+" : "") + (chord.shift ? "Shift+" : "") + (chord.alt ? "Alt+" : "") +
           chord.key;
}

Keymap::Keymap() {
    for (const ActionInfo& info : table)
        for (const std::string& word : words_of(info.keys))
            if (auto chord = parse_chord(word)) by_chord_[*chord] = info.action;
}

std::optional<Action> Keymap::action_for(const Chord& chord) const {
    const auto found = by_chord_.find(chord);
    if (found == by_chord_.end()) return std::nullopt;
    return found->second;
}

std::vector<Chord> Keymap::chords_of(Action action) const {
    std::vector<Chord> chords;
    for (const auto& [chord, does] : by_chord_)
        if (does == action) chords.push_back(chord);
    return chords;
}

std::string Keymap::hint(Action action) const {
    const auto chords = chords_of(action);
    return chords.empty() ? std::string{} : chord_text(chords.front());
}

void Keymap::set(Action action, const std::vector<Chord>& chords) {
    std::erase_if(by_chord_, [&](const auto& entry) { return entry.second == action; });
    for (const Chord& chord : chords) by_chord_[chord] = action;
}

std::string write_keymap(const Keymap& keymap) {
    nlohmann::ordered_json document{{"format", "quarterturn.keys"}, {"version", 1}};
    auto& keys = document["keys"];
    for (const ActionInfo& info : table) {
        keys[std::string(info.id)] = nlohmann::ordered_json::array();
        for (const Chord& chord : keymap.chords_of(info.action))
            keys[std::string(info.id)].push_back(chord_text(chord));
    }
    return document.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

Result<Keymap> read_keymap(std::string_view text) {
    const auto bad = [](std::string what) { return Error{ErrorCode::bad_input, "keys.json: " + std::move(what)}; };
    const auto document = nlohmann::json::parse(text, nullptr, false);
    if (!document.is_object() || document.value("format", nlohmann::json()) != "quarterturn.keys")
        return bad("this is not a list of keys. Move it away and a new one is written.");
    const auto version = document.value("version", nlohmann::json());
    if (!version.is_number_integer()) return bad("the version is missing.");
    if (version.get<std::int64_t>() > 1)
        return Error{ErrorCode::newer_version, "keys.json was written by a newer version of the program."};
    Keymap keymap;
    std::map<Chord, std::string> taken;
    const auto keys = document.value("keys", nlohmann::json::object());
    if (!keys.is_object()) return bad("\"keys\" must be an object.");
    for (const auto& [id, chords] : keys.items()) {
        const auto action = find_action(id);
        if (!action || !chords.is_array()) return bad(fmt::format("\"{}\" is not something a key can do.", id));
        std::vector<Chord> parsed;
        for (const auto& entry : chords) {
            if (!entry.is_string()) return bad(fmt::format("the keys of \"{}\" must be texts.", id));
            auto chord = parse_chord(entry.get_ref<const std::string&>());
            if (!chord) return bad(chord.error().detail);
            const auto [other, fresh] = taken.emplace(*chord, id);
            if (!fresh)
                return bad(
                    fmt::format("\"{}\" is given to \"{}\" and to \"{}\".", chord_text(*chord), other->second, id));
            parsed.push_back(*chord);
        }
        keymap.set(*action, parsed);
    }
    return keymap;
}

}  // namespace quarterturn::app
