#pragma once
/// The division's poses in call order, with what this clip and this session say about each.
#include <optional>
#include <string>
#include <vector>

#include "app/state.hpp"
#include "journal/score.hpp"

namespace quarterturn::app {

struct Card {
    std::string pose;  ///< id; "" gathers the holds that are no known pose
    std::string title;
    int number = 0;                   ///< place in the call order, from 1; 0: not called in this division
    std::vector<std::size_t> spans;   ///< its holds, in time order
    std::optional<std::size_t> best;  ///< the longest of them
    std::optional<double> hold_s;     ///< of the longest
    std::optional<double> target_s;
    std::optional<double> facing_deg;  ///< how the athlete stands to the judges, where the pose says
    std::int64_t still_pts = 0;        ///< picture of the steadiest moment of the longest
    journal::Score own, coach;
    bool coach_marked = false;                         ///< a coach gave marks of her own
    std::size_t to_do = 0;                             ///< notes
    const rules::PoseExpectation* expected = nullptr;  ///< in OpenClip::rules
};

/// Poses of the rule set in call order, then others that were held. Without a rule set: the poses held.
[[nodiscard]] std::vector<Card> cards_of(const ReviewState& state);

/// One line of the open card's checklist.
struct ChecklistLine {
    const rules::ChecklistItem* item = nullptr;
    const posing::Check* measured = nullptr;  ///< of the card's longest hold
    std::optional<int> program;               ///< the mark that measuring gives
    std::optional<int> own, coach;
};
[[nodiscard]] std::vector<ChecklistLine> checklist_of(const ReviewState& state, const Card& card);

/// The notes of a card that the filter and the search let through, by time. "" gathers those without a pose.
[[nodiscard]] std::vector<const journal::Note*> notes_of(const ReviewState& state, const Card& card);

/// Whether every word of the search is in the note's text, topic or author, whatever the case (Latin, Greek, Cyrillic).
[[nodiscard]] bool matches(const journal::Note& note, std::string_view search);

/// "Left side to the judges" for an id: the rule set's title, else the catalogue's, else the id in words.
[[nodiscard]] std::string pose_title(const ReviewState& state, const std::optional<std::string>& pose);

}  // namespace quarterturn::app
