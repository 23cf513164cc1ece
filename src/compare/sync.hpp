#pragma once
/// Two films playing together: one clock, and from it the moment of each film that is due. Pure: the clock belongs to
/// whoever plays.
#include <cstdint>
#include <optional>
#include <vector>

#include "compare/time_map.hpp"

namespace quarterturn::compare {

enum class SyncMode {
    by_pose,        ///< both holds begin together and run at their own true speed
    by_warped_time  ///< the earlier film follows through holds and turns (TimeMap)
};

/// Where each film is moved by a person, seconds: positive shows a later moment of it.
struct FineOffset {
    double now_s = 0, before_s = 0;
};

/// What is due; true seconds from each film's first picture, never outside the film.
struct DueMoment {
    double now_s = 0, before_s = 0;
};

class Sync {
  public:
    /// @param pairs  of these two takes; others are passed over
    Sync(const Takes& now, std::size_t now_take, const Takes& before, std::size_t before_take,
         const std::vector<Pair>& pairs, TimeMap map);

    /// `clock_s` runs as this film does: true seconds from its first picture.
    [[nodiscard]] DueMoment at(double clock_s, SyncMode mode, const FineOffset& offset = {}) const;

    /// The moment of this film at which the earlier one is at `before_s`, for whoever moves about in the earlier film.
    [[nodiscard]] double clock_for_before(double before_s, SyncMode mode, const FineOffset& offset = {}) const;

    [[nodiscard]] const TimeMap& map() const { return map_; }

  private:
    struct Starts {
        double now_s, before_s;
    };
    [[nodiscard]] double by_pose(double now_s) const;
    std::vector<Starts> holds_;  ///< by now_s
    TimeMap map_;
    double now_length_s_, before_length_s_;
};

/// The rank of the picture on screen `seconds` after the first: the last one not later. Pictures' own times decide, so
/// a variable rate and another rate than the other film's make no difference.
/// @param pts  of every picture, increasing, not empty
[[nodiscard]] std::size_t rank_on_screen(const std::vector<std::int64_t>& pts, const posing::ClipFacts& clip,
                                         double seconds);

}  // namespace quarterturn::compare
