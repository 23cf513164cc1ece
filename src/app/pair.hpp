#pragma once
/// Two takes of the same poses beside each other: what was compared, and how a person looks at it. Plain data.
#include <array>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/picture_view.hpp"
#include "body/mask_outline.hpp"
#include "compare/comparison.hpp"
#include "compare/laid_over.hpp"
#include "compare/sync.hpp"
#include "journal/library.hpp"
#include "media/frame_index.hpp"
#include "media/probe.hpp"
#include "share/compare_films.hpp"

namespace quarterturn::app {

/// What of the library a comparison rests on, as texts that differ when it does.
struct PairBasis {
    std::string clips;  ///< what is known about the films, and corrected holds
    std::string pins;   ///< and whether body numbers are hidden
    bool operator==(const PairBasis&) const = default;
};

enum class PairLook {
    beside,   ///< two pictures, the earlier one brought to the later one's scale, place and upright
    over,     ///< the earlier one over the later one, see-through
    edge,     ///< the earlier one to the right of an edge that can be moved
    outline,  ///< the outline of the earlier body on the later picture
    blink     ///< now one, now the other, at the same place
};
inline constexpr std::size_t pair_look_count = 5;

/// What is compared with what: sessions, or one clip of each.
struct PairChoice {
    std::string session;              ///< id
    std::optional<std::string> clip;  ///< fingerprint; absent: all clips that count
    bool operator==(const PairChoice&) const = default;
};

/// Both sides and their comparison, as a job made them. Never changed afterwards, so it is shared between threads.
struct PairMade {
    PairChoice now_choice, before_choice;
    share::ComparedSide now, before;
    compare::Comparison made;
    std::optional<rules::RuleSet> rules;
    std::vector<std::string> words;  ///< summary_of: one sentence for all, then one for each pair
    std::vector<share::ProposedMatch> proposed;
};

/// The two films on the stage.
struct PairFilms {
    std::size_t now_take = 0, before_take = 0;
    std::shared_ptr<const media::FrameIndex> now_index, before_index;
    media::ClipInfo now_info, before_info;
    std::shared_ptr<const compare::Sync> sync;
};

/// The outline of the body in one picture of the earlier film, pixels of the picture as shown.
struct TracedOutline {
    std::size_t take = 0;
    std::int64_t pts = 0;
    body::OutlinePieces lines;
};

struct PairDesk {
    std::optional<PairChoice> now, before;  ///< wanted; `before` absent: the nearest match
    std::shared_ptr<const PairMade> made;
    std::optional<PairFilms> films;
    bool working = false;                             ///< a job is comparing
    std::string trouble;                              ///< why there is nothing to see, a plain sentence
    std::size_t pair = 0;                             ///< chosen, in made->made.pairs
    bool choosing = false;                            ///< the list of sessions is open
    std::optional<compare::HoldPlace> choosing_hold;  ///< the list of holds that could belong to this one is open
    std::uint64_t number = 0;                         ///< of the comparison asked for last
    PairBasis basis;                                  ///< of `made`
    std::optional<compare::HoldPlace> wanted_hold;    ///< to choose when the comparison is there

    PairLook look = PairLook::beside;
    double opacity = 0.5;  ///< of the earlier picture, 0..1
    double edge = 0.5;     ///< where the edge stands, 0..1 of the later picture's width
    double blink_s = 0.7;  ///< how long each picture stays
    bool aligned = true;   ///< false: the earlier picture as it was filmed, fitted into the frame
    bool match_light = false;
    std::optional<std::array<double, 3>> gains;  ///< found for the chosen pair (light_match.hpp)
    std::optional<TracedOutline> traced;
    Zooming zooming;

    compare::SyncMode sync = compare::SyncMode::by_warped_time;
    compare::FineOffset offset;
    bool at_stills = true;  ///< the steadiest moments of the chosen pair are on screen, not what is due
    double clock_s = 0;     ///< true seconds of this film; of both films by way of `sync`
    bool running = false;
    double speed = 1;

    [[nodiscard]] const compare::PairComparison* chosen() const;
    /// What is to be on screen: the stills or what is due at the clock; absent while the films are not open.
    [[nodiscard]] std::optional<compare::DueMoment> due() const;
    [[nodiscard]] const posing::ClipFacts& now_clip() const;  ///< needs films
    [[nodiscard]] const posing::ClipFacts& before_clip() const;
    [[nodiscard]] double duration_s() const;
};

[[nodiscard]] std::vector<compare::HoldPlace> holds_of(const compare::Takes& takes);
[[nodiscard]] PairBasis basis_of(const journal::Library& library, const PairMade& made);
/// Pins of two moments between the two films on the stage.
[[nodiscard]] std::vector<const journal::Pin*> moment_pins(const journal::Library& library, const PairDesk& desk);

/// The picture of a film that is on screen at a moment: its pts.
[[nodiscard]] std::int64_t picture_at(const media::FrameIndex& index, const posing::ClipFacts& clip, double seconds);

/// How the earlier picture lies on the later one at this moment: from pixels of the earlier picture as shown to pixels
/// of the later one as shown (both mirrored back where the film is mirrored). Fitted into the frame where there is no
/// alignment, or it is not wanted.
[[nodiscard]] compare::Affine placement(const PairDesk& desk);

/// From places of the later picture as shown (0..1 from the top left) to places of the earlier one as filmed.
[[nodiscard]] compare::Affine to_earlier_picture(const PairDesk& desk);

/// One line of the table of differences, in words.
struct DifferenceLine {
    std::string title, now, before, difference, error, verdict;
    bool beyond = false;  ///< larger than the measuring error
    std::string hint;     ///< reasons for what is missing, and where the error comes from
};
[[nodiscard]] std::vector<DifferenceLine> difference_lines(const compare::Comparison& made,
                                                           const compare::PairComparison& pair);

}  // namespace quarterturn::app
