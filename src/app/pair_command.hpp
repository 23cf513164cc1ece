#pragma once
/// What a person can ask for on the page that sets two takes side by side; carried out by apply_pair().
#include <variant>

#include "app/pair.hpp"

namespace quarterturn::app {

namespace pairing {

/// Opens the page; `before` absent: the nearest match.
struct Compare {
    PairChoice now;
    std::optional<PairChoice> before;
};
struct CompareAgain {};  ///< after corrections, marks or measuring
struct ShowSessions {
    bool on;
};
struct Choose {
    std::size_t pair;
};  ///< goes to its two stills
struct SetLook {
    PairLook look;
};
struct SetOpacity {
    double opacity;
};
struct SetEdge {
    double edge;
};
struct SetAligned {
    bool on;
};
struct SetLight {
    bool on;
};
struct SetZooming {
    app::Zooming zooming;
};
struct SetSync {
    compare::SyncMode mode;
};
struct ShiftBy {
    double now_s, before_s;
};  ///< added to the fine offsets
struct OffsetsOff {};
struct TogglePlay {};
struct Seek {
    double clock_s;
};
struct Step {
    int pictures;
};  ///< of this season's film
struct SetSpeed {
    double speed;
};
struct PinTogether {};  ///< the two moments on screen
struct Unpin {
    std::string pin;
};
/// The hold that belongs to this one; `before` absent: none does.
struct SetCounterpart {
    compare::HoldPlace now;
    std::optional<compare::HoldPlace> before;
};
struct NextCounterpart {};  ///< the next hold of the earlier side
struct ShowHolds {
    std::optional<compare::HoldPlace> now;
};                           ///< the list of earlier holds that could belong to it
struct TurnMirroredFilm {};  ///< takes the offer: the film is marked as mirrored

using Any = std::variant<Compare, CompareAgain, ShowSessions, Choose, SetLook, SetOpacity, SetEdge, SetAligned,
                         SetLight, SetZooming, SetSync, ShiftBy, OffsetsOff, TogglePlay, Seek, Step, SetSpeed,
                         PinTogether, Unpin, SetCounterpart, NextCounterpart, ShowHolds, TurnMirroredFilm>;

}  // namespace pairing

struct PairCommand {
    pairing::Any what;
};

}  // namespace quarterturn::app
