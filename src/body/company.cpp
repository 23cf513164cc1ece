#include "body/company.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace quarterturn::body {
namespace {

constexpr double touching = 0.26;   // sides; drawn bodies in profile are mixed up to 0.2
constexpr double same_way_s = 2.5;  // two sights of him further apart are two passers-by
constexpr double goes_on_s = 1.5;   // unseen before the first and after the last sight
// Sides per second. A few sights of a body half hidden tell which way he goes, not how fast: people walk at 0.8 to 1.4
// m/s (Bohannon and Andrews 2011), and a side is about 1.4 body heights, more where he is further away.
constexpr double usual_walk = 0.35;
constexpr double stands = 0.05;          // slower than this nobody passes
constexpr double usual_over_s = 3;       // her own region may have been led off: its usual place counts
constexpr double most_size_ratio = 1.0;  // natural logarithm; somebody so far off hides nothing

/// Somebody else beside her.
struct Beside {
    double t_s = 0;
    double away = 0;  ///< sides of her region, to the right in the picture
};

double median(std::vector<double>& values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

/// Where her region mostly is about that time.
std::optional<Region> usual_region(const std::vector<LandmarkFrame>& frames, double t_s) {
    std::vector<double> x, y, side;
    for (const LandmarkFrame& frame : frames) {
        if (!frame.region || std::abs(frame.t_s - t_s) > usual_over_s) continue;
        x.push_back(frame.region->centre.x);
        y.push_back(frame.region->centre.y);
        side.push_back(frame.region->side);
    }
    if (x.empty()) return std::nullopt;
    Region usual;
    usual.centre = {median(x), median(y)};
    usual.side = median(side);
    return usual;
}

/// The nearest of the others, where the detector saw several.
std::optional<Beside> beside_her(const std::vector<LandmarkFrame>& frames, const Sighting& sighting) {
    if (sighting.people.size() < 2) return std::nullopt;
    const auto her = usual_region(frames, sighting.t_s);
    if (!her) return std::nullopt;
    const auto nearer = [&](const Person& a, const Person& b) {
        return unlikeness(a.region, *her) < unlikeness(b.region, *her);
    };
    const auto herself = std::min_element(sighting.people.begin(), sighting.people.end(), nearer);
    std::optional<Beside> out;
    for (auto other = sighting.people.begin(); other != sighting.people.end(); ++other) {
        if (other == herself || std::abs(std::log(other->region.side / her->side)) > most_size_ratio) continue;
        const double away = (other->region.centre.x - her->centre.x) / her->side;
        if (!out || std::abs(away) < std::abs(out->away)) out = Beside{sighting.t_s, away};
    }
    return out;
}

/// One passing: sights of him that follow each other.
class Passing {
  public:
    explicit Passing(std::span<const Beside> sights) : sights_(sights) {
        double t = 0, x = 0;
        const auto count = static_cast<double>(sights.size());
        for (const Beside& sight : sights) {
            t += sight.t_s / count;
            x += sight.away / count;
        }
        double products = 0, squares = 0;
        for (const Beside& sight : sights) {
            products += (sight.t_s - t) * (sight.away - x);
            squares += (sight.t_s - t) * (sight.t_s - t);
        }
        speed_ = squares > 0 ? products / squares : 0;
        speed_ = std::abs(speed_) > stands ? std::copysign(usual_walk, speed_) : 0;
    }

    [[nodiscard]] bool touches(double t_s) const {
        const Beside &first = sights_.front(), &last = sights_.back();
        if (t_s < first.t_s - goes_on_s || t_s > last.t_s + goes_on_s) return false;
        if (sights_.size() == 1) return std::abs(t_s - first.t_s) * usual_walk < touching + std::abs(first.away);
        if (t_s <= first.t_s) return std::abs(first.away + speed_ * (t_s - first.t_s)) < touching;
        if (t_s >= last.t_s) return std::abs(last.away + speed_ * (t_s - last.t_s)) < touching;
        const auto later = std::lower_bound(sights_.begin(), sights_.end(), t_s,
                                            [](const Beside& sight, double t) { return sight.t_s < t; });
        const Beside &to = *later, &from = *(later - 1);
        return std::abs(from.away + (t_s - from.t_s) / (to.t_s - from.t_s) * (to.away - from.away)) < touching;
    }

  private:
    std::span<const Beside> sights_;
    double speed_ = 0;  ///< sides per second
};

void mark(std::vector<LandmarkFrame>& frames, const Passing& passing) {
    const auto touched = [&](const LandmarkFrame& frame) { return passing.touches(frame.t_s); };
    const auto first = std::find_if(frames.begin(), frames.end(), touched);
    if (first == frames.end()) return;
    const auto last = std::find_if(frames.rbegin(), frames.rend(), touched);
    if (last->t_s - first->t_s > longest_company_s) return;
    for (auto frame = first; frame != last.base(); ++frame) frame->company = frame->body.has_value();
}

}  // namespace

void mark_company(std::vector<LandmarkFrame>& frames, std::span<const Sighting> sightings) {
    std::vector<Beside> sights;
    for (const Sighting& sighting : sightings)
        if (const auto beside = beside_her(frames, sighting)) sights.push_back(*beside);
    for (std::size_t first = 0; first < sights.size();) {
        std::size_t last = first;
        while (last + 1 < sights.size() && sights[last + 1].t_s - sights[last].t_s <= same_way_s) ++last;
        mark(frames, Passing{{sights.data() + first, last - first + 1}});
        first = last + 1;
    }
}

}  // namespace quarterturn::body
