#pragma once
/// What can be done with a key, which key does it, and the person's own choice in keys.json in the settings folder.
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace quarterturn::app {

enum class Action {
    play_or_pause,
    next_picture,
    previous_picture,
    one_second_on,
    one_second_back,
    to_start,
    to_end,
    next_hold,
    previous_hold,
    next_transition,
    previous_transition,
    next_note,
    previous_note,
    slower,
    faster,
    normal_speed,
    repeat_hold,
    repeat_from_here,
    repeat_to_here,
    repeat_off,
    pin_note,
    stretch_from_here,
    stretch_to_here,
    finish_typing,
    note_done,
    remove_note,
    draw_level,
    draw_upright,
    draw_angle,
    draw_ring,
    draw_arrow,
    draw_stroke,
    hold_starts_here,
    hold_ends_here,
    split_hold,
    join_hold,
    add_hold,
    remove_hold,
    measured_hold,
    next_pose_name,
    next_item,
    previous_item,
    mark_0,
    mark_1,
    mark_2,
    mark_3,
    mark_4,
    turn_card,
    mirror,
    zoom_in,
    zoom_out,
    zoom_whole,
    ribbon_in,
    ribbon_out,
    full_screen,
    show_skeleton,
    show_plumb_line,
    show_levels,
    show_silhouette,
    show_thirds,
    show_drawings,
    look_beside,
    look_over,
    look_edge,
    look_outline,
    look_blink,
    look_more,
    look_less,
    align_pictures,
    match_light,
    change_sync,
    earlier_sooner,
    earlier_later,
    offsets_off,
    pin_together,
    unpin_moment,
    next_counterpart,
    no_counterpart,
    choose_session,
    show_filmed,
    turn_film,
    tilt_left,
    tilt_right,
    tilt_estimated,
    film_speed,
    turn_mirrored_film,
    show_athlete,
    follow_anyone,
    measure_clip,
    next_clip,
    previous_clip,
    open_clip,
    next_season,
    previous_season,
    move_clip,
    clip_counts,
    take_clip_out,
    undo,
    redo,
    go_library,
    go_clip,
    go_pair,
    go_keys,
    go_settings,
    search_notes,
    leave
};

struct ActionInfo {
    Action action;
    std::string_view id;     ///< in keys.json
    std::string_view title;  ///< on the keys page
    std::string_view group;
    std::string_view keys;  ///< the default: chords separated by a blank
};
/// All actions, groups together, in the order of the keys page.
[[nodiscard]] std::span<const ActionInfo> actions();
[[nodiscard]] std::optional<Action> find_action(std::string_view id);

/// A key with the ones held down: "Ctrl+Shift+Z", "Space", "Left", "F5", "[". Letters are upper case.
struct Chord {
    bool ctrl = false, shift = false, alt = false;
    std::string key;
    auto operator<=>(const Chord&) const = default;
};
/// @error bad_input: an empty key or an unknown word before a '+'
[[nodiscard]] Result<Chord> parse_chord(std::string_view text);
[[nodiscard]] std::string chord_text(const Chord& chord);

class Keymap {
  public:
    /// The default keys.
    Keymap();
    [[nodiscard]] std::optional<Action> action_for(const Chord& chord) const;
    [[nodiscard]] std::vector<Chord> chords_of(Action action) const;
    /// The first chord as text, for hints; empty when it has none.
    [[nodiscard]] std::string hint(Action action) const;
    /// Gives the action these chords instead of the ones it had; another action loses a chord given here.
    void set(Action action, const std::vector<Chord>& chords);

  private:
    std::map<Chord, Action> by_chord_;
};

/// The keys as a JSON document: every action with its chords.
[[nodiscard]] std::string write_keymap(const Keymap& keymap);
/// Actions that are not named keep their default. A chord given twice is refused.
/// @error bad_input: the sentence names the action; newer_version
[[nodiscard]] Result<Keymap> read_keymap(std::string_view text);

}  // namespace quarterturn::app
