#pragma once
/// Carries commands out on the state. No window, no threads, no disk: what has to happen outside is put into
/// ReviewState::requests.
#include "app/command.hpp"
#include "base/result.hpp"

namespace quarterturn::app {

/// @error a plain sentence for the person; the state is as it was
Status apply(ReviewState& state, const Command& command);

/// What a key means on the present screen, as other commands; empty when it means nothing there.
[[nodiscard]] Commands commands_for(const ReviewState& state, Action action);

/// Makes an edit: on screen at once, undoable, and on its way to the disk.
/// @param grows  one step of undo together with the edit before, when that has the same title (typing)
void make_edit(ReviewState& state, Edit edit, bool grows = false);

/// Lays the person's corrections over the measured segments again; keeps the choice on the same hold.
void refresh_spans(ReviewState& state);

/// The hold or other span on screen at `pts`; absent between spans.
[[nodiscard]] std::optional<std::size_t> span_at(const OpenClip& clip, std::int64_t pts);

// One function per family of commands, each in a file of its own.
Status apply_playing(ReviewState& state, const Command& command);
Status apply_looking(ReviewState& state, const Command& command);
Status apply_hold(ReviewState& state, const Command& command);
Status apply_card(ReviewState& state, const Command& command);
Status apply_note(ReviewState& state, const Command& command);
Status apply_drawing(ReviewState& state, const Command& command);
Status apply_filmed(ReviewState& state, const Command& command);
Status apply_library(ReviewState& state, const Command& command);
Status apply_pair(ReviewState& state, const PairCommand& command);

/// What a key means for the clips of the library.
[[nodiscard]] Commands library_commands_for(const ReviewState& state, Action action);
/// The clips of the chosen season as they stand in the library: the latest session first.
[[nodiscard]] std::vector<const journal::Clip*> clips_in_order(const ReviewState& state);
/// All sessions a clip can go to, the latest season first and in it the latest session.
[[nodiscard]] std::vector<const journal::Session*> sessions_in_order(const journal::Library& library);

/// What a key means on the page with two takes.
[[nodiscard]] Commands pair_commands_for(const ReviewState& state, Action action);
/// The clock of the two films has moved by playing; the chosen pair follows it.
void pair_clock_moved(ReviewState& state, double clock_s);
/// Shows the pictures due at the clock (again).
void show_pair(ReviewState& state);
/// A comparison has been made, or could not be.
void pair_compared(ReviewState& state, std::uint64_t number, std::shared_ptr<const PairMade> made,
                   const std::string& trouble);
/// Compares again where pins, marks or a clip's facts have changed what was compared.
void refresh_pair(ReviewState& state);

/// Goes to a picture: shows it, or plays on from it.
void go_to(ReviewState& state, std::int64_t pts);

}  // namespace quarterturn::app
