#include "body/shake_record.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace quarterturn::body {
namespace {

constexpr int longest_px = 480;
/// Less than this (middle movement, share of the picture's longer side) is a phone that stands: 0.4 pixels of 768,
/// about 0.1 cm for a body that fills the picture, and what the measurement itself wavers by before a bare wall.
constexpr double still_share = 0.0005;
/// Further than this from all its neighbours a movement is a mistake, even of a shaking hand.
constexpr double mistake_share = 0.008;
/// With fewer measured pictures than this the clip's movement is not known.
constexpr double least_known = 0.8;

/// Where the body hides the room, in pixels of the reduced picture, arms and hair included.
cv::Rect hidden_by(const Body& body, double reduction, cv::Size size) {
    double left = HUGE_VAL, right = -HUGE_VAL, top = HUGE_VAL, bottom = -HUGE_VAL;
    for (const Landmark& mark : body.landmarks) {
        left = std::min(left, static_cast<double>(mark.x));
        right = std::max(right, static_cast<double>(mark.x));
        top = std::min(top, static_cast<double>(mark.y));
        bottom = std::max(bottom, static_cast<double>(mark.y));
    }
    const double margin = 0.08 * (bottom - top);
    const auto pixel = [&](double value) {
        return static_cast<int>(std::lround(std::clamp(value, -1e4, 1e5) / reduction));
    };
    const cv::Point from{pixel(left - margin), pixel(top - 1.2 * margin)};
    const cv::Point to{pixel(right + margin), pixel(bottom + margin)};
    return cv::Rect(from, to) & cv::Rect({0, 0}, size);
}

struct Joined {
    std::int64_t pts = 0;
    Movement movement;
};

double middle_of(std::vector<double> values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

/// What has to come before every movement of `part` so that it goes on where `before` ends: from the pictures both saw.
Movement joint(const std::vector<Joined>& before, const std::vector<ShakeRecord::At>& part) {
    std::vector<double> x, y, turn;
    for (const ShakeRecord::At& at : part) {
        if (!at.movement || before.empty() || at.pts > before.back().pts) continue;
        const auto same = std::lower_bound(before.begin(), before.end(), at.pts,
                                           [](const Joined& j, std::int64_t pts) { return j.pts < pts; });
        if (same == before.end() || same->pts != at.pts) continue;
        const Movement first = at.movement->inverse().after(same->movement);
        x.push_back(first.x);
        y.push_back(first.y);
        turn.push_back(first.turn_rad);
    }
    if (x.empty()) return before.empty() ? Movement{} : before.back().movement;
    return {middle_of(std::move(x)), middle_of(std::move(y)), middle_of(std::move(turn))};
}

/// Without movements that are far from the middle of their neighbours, measured by how far those are from it.
std::vector<Joined> without_mistakes(const std::vector<Joined>& all, double longer_side) {
    constexpr std::size_t around = 7;
    std::vector<Joined> kept;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const std::size_t from = i < around ? 0 : i - around, to = std::min(all.size(), i + around + 1);
        std::vector<double> x, y, off;
        for (std::size_t j = from; j < to; ++j) {
            x.push_back(all[j].movement.x);
            y.push_back(all[j].movement.y);
        }
        const double mx = middle_of(std::move(x)), my = middle_of(std::move(y));
        for (std::size_t j = from; j < to; ++j)
            off.push_back(std::hypot(all[j].movement.x - mx, all[j].movement.y - my));
        const double own = off[i - from];
        if (own <= mistake_share * longer_side + 4 * middle_of(std::move(off))) kept.push_back(all[i]);
    }
    return kept;
}

/// By the middle movement, so that a moment in which the athlete hides most of the room does not count.
bool stands_still(const std::vector<Joined>& all, double longer_side) {
    std::vector<double> x, y, off;
    for (const Joined& at : all) {
        x.push_back(at.movement.x);
        y.push_back(at.movement.y);
    }
    const double mx = middle_of(std::move(x)), my = middle_of(std::move(y));
    for (const Joined& at : all) off.push_back(std::hypot(at.movement.x - mx, at.movement.y - my));
    return middle_of(std::move(off)) < still_share * longer_side;
}

}  // namespace

void ShakeRecord::skim(const PictureView& view) {
    small_ = view.reduced_grey(longest_px);
}

void ShakeRecord::see(const Observation& observation) {
    const cv::Mat grey = std::exchange(small_, {});
    if (grey.empty()) return;
    const double reduction = observation.view.width() / grey.cols;
    cv::Rect athlete;
    if (observation.frame.body) athlete = hidden_by(*observation.frame.body, reduction, grey.size());
    longer_side_ = std::max(observation.view.width(), observation.view.height());
    std::optional<Movement> movement = meter_.measure(grey, athlete);
    if (movement) {
        movement->x *= reduction;
        movement->y *= reduction;
    }
    pictures_.push_back({observation.frame.pts, movement});
}

std::vector<Shake> shake_of(std::span<const ObservedPart> parts, const ClipClock& clock) {
    std::vector<Joined> all;
    double longer_side = 0;
    std::size_t looked_at = 0;
    for (const ObservedPart& part : parts) {
        const auto* record = dynamic_cast<const PartRecord*>(part.observer.get());
        if (record == nullptr) return {};
        longer_side = std::max(longer_side, record->shake().longer_side());
        const Movement first = joint(all, record->shake().pictures());
        for (const ShakeRecord::At& at : record->shake().pictures()) {
            if (at.pts < part.from_pts || at.pts > part.to_pts) continue;
            ++looked_at;
            if (at.movement) all.push_back({at.pts, at.movement->after(first)});
        }
    }
    all = without_mistakes(all, longer_side);
    const bool known = !all.empty() && static_cast<double>(all.size()) >= least_known * static_cast<double>(looked_at);
    if (!known || stands_still(all, longer_side)) return {};
    std::vector<Shake> out;
    for (const Joined& at : all) {
        const double t_s = seconds_between(clock.first_pts, at.pts, clock.base) * clock.time_scale;
        out.push_back({t_s, at.movement.x, at.movement.y, at.movement.turn_rad});
    }
    return out;
}

}  // namespace quarterturn::body
