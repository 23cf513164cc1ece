#include "body/region_keeper.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::body {
namespace {

double shift_between(const Region& a, const Region& b) {
    return std::hypot(a.centre.x - b.centre.x, a.centre.y - b.centre.y) / a.side;
}

}  // namespace

RegionKeeper::RegionKeeper(KeeperSettings settings)
    : settings_(settings),
      x_(settings.smoothing),
      y_(settings.smoothing),
      size_(settings.smoothing),
      turn_(settings.smoothing) {}

void RegionKeeper::reset(const Region& region) {
    region_ = region;
    anchor_ = region;
    scale_ = region.side;
    x_.reset(region.centre.x / scale_);
    y_.reset(region.centre.y / scale_);
    size_.reset(std::log(region.side));
    turn_.reset(region.angle_rad);
    settled_s_ = 0;
    outside_ = 0;
    held_ = false;
}

bool RegionKeeper::beyond(const Region& from, const Region& wanted, double share) const {
    return shift_between(from, wanted) > share * settings_.leave_shift ||
           std::abs(std::log(wanted.side / from.side)) > share * settings_.leave_size ||
           std::abs(angle_between(from.angle_rad, wanted.angle_rad)) > share * settings_.leave_turn_rad;
}

void RegionKeeper::follow(const Region& wanted, double dt_s) {
    region_.centre = {x_.next(wanted.centre.x / scale_, dt_s) * scale_,
                      y_.next(wanted.centre.y / scale_, dt_s) * scale_};
    region_.side = std::exp(size_.next(std::log(wanted.side), dt_s));
    // Unwrapped around the present angle, so that a body lying down does not spin through a full turn.
    const double before = turn_.value().value_or(wanted.angle_rad);
    region_.angle_rad = angle_between(0, turn_.next(before + angle_between(before, wanted.angle_rad), dt_s));
    // Distance from a place rather than speed: breathing and sway are fast but lead nowhere.
    const bool moved_on = beyond(anchor_, wanted, settings_.settle_share);
    if (moved_on) anchor_ = wanted;
    settled_s_ = moved_on ? 0 : settled_s_ + dt_s;
}

const Region& RegionKeeper::update(const Region& wanted, double dt_s) {
    if (held_) {
        // Two in a row: a single misread picture must not move a held region.
        outside_ = beyond(region_, wanted, 1) ? outside_ + 1 : 0;
        if (outside_ < 2) return region_;
        reset(region_);
    }
    follow(wanted, dt_s);
    held_ = settled_s_ >= settings_.settle_s && !beyond(region_, wanted, settings_.settle_share);
    outside_ = 0;
    return region_;
}

}  // namespace quarterturn::body
