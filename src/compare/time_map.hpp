#pragma once
/// Which moment of the earlier film belongs to a moment of this one.
#include <optional>
#include <vector>

#include "compare/pairing.hpp"

namespace quarterturn::compare {

/// Never runs backwards in either direction. Seconds are true seconds from each clip's first picture.
class TimeMap {
  public:
    struct Knot {
        double now_s = 0, before_s = 0;
    };
    /// @param knots  both times must not decrease; the last of several with the same now_s counts. Empty: same time.
    explicit TimeMap(std::vector<Knot> knots = {});

    /// Between knots a straight line, outside at the same speed as this film. May lie outside the earlier film.
    [[nodiscard]] double before_at(double now_s) const;
    [[nodiscard]] double now_at(double before_s) const;
    [[nodiscard]] const std::vector<Knot>& knots() const { return knots_; }

  private:
    std::vector<Knot> knots_;
};

/// For two takes. Paired holds that come in the same order in both are laid over each other from their beginning to
/// their end (a straight line), and so are the pauses between them where both films have as many; pinned moments bind.
/// In between, and for walks, the postures are warped onto each other (warping.hpp over body_signal.hpp). Without
/// landmarks straight lines stand there too.
///
///     now     ---[== hold ==]~~~turn~~~[===== hold =====]--
///                 \          \  warped  \                \       straight inside holds
///     before  ------[=hold=]~~~~turn~~~~~[= hold =]--------
[[nodiscard]] TimeMap map_times(const Takes& now, std::size_t now_take, const Takes& before, std::size_t before_take,
                                const std::vector<Pair>& pairs, const std::vector<MomentPin>& moments = {});

}  // namespace quarterturn::compare
