#pragma once
/// Which hold of this film or session belongs to which of the earlier one.
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "compare/take.hpp"

namespace quarterturn::compare {

/// A person says that two holds belong together, or (one absent) that a hold has no counterpart.
struct PairPin {
    std::optional<HoldPlace> now, before;
};

/// A person says that two moments belong together; ranks of takes, true seconds.
struct MomentPin {
    std::size_t now_take = 0, before_take = 0;
    double now_s = 0, before_s = 0;
};

struct Pins {
    std::vector<PairPin> pairs;
    std::vector<MomentPin> moments;
};

struct Pair {
    std::string pose;  ///< id; empty: a person put two holds together that are no known pose
    HoldPlace now, before;
    bool by_person = false;
    bool other_side = false;  ///< the pose allows either side, and the other one was chosen before
    /// The steadiest moment of each: what a still shows. A moment pin within both holds decides instead.
    std::int64_t now_still_pts = 0, before_still_pts = 0;
    double now_still_s = 0, before_still_s = 0;  ///< the same in true seconds
};

struct Unpaired {
    bool is_now = false;  ///< else of the earlier one
    HoldPlace place;
    std::optional<std::string> pose;
};

struct Pairing {
    std::vector<Pair> pairs;         ///< in the order of this film or session
    std::vector<Unpaired> unpaired;  ///< holds without a counterpart: now's, then before's
};

/// Holds of the same pose are paired in order: the first with the first. Where a pose is shown to either side, holds
/// of the same side are paired first. What a person pinned comes before all.
[[nodiscard]] Pairing pair_holds(const Takes& now, const Takes& before, const Pins& pins = {});

}  // namespace quarterturn::compare
