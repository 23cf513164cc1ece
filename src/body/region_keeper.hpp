#pragma once
/// Holds the looked-at region fixed while the body keeps its place. Moving the region by a few per cent moves the
/// network's joints by 0.4-2.1 % of body height, so a region that follows every breath would be measured as sway.
#include "body/one_euro.hpp"
#include "body/region.hpp"

namespace quarterturn::body {

struct KeeperSettings {
    // Shares of the region's side; a quarter of it is margin around the body.
    double leave_shift = 0.05;  ///< the body's place must differ this much before the region follows
    double leave_size = 0.10;   ///< relative change of size
    double leave_turn_rad = 0.10;
    double settle_share = 0.6;  ///< it counts as settled while it stays within this share of the limits above
    double settle_s = 0.4;      ///< for so long, before it is held again
    OneEuroSettings smoothing{1.0, 10.0, 1.0};  ///< while following
};

class RegionKeeper {
  public:
    explicit RegionKeeper(KeeperSettings settings = {});

    /// Starts again at `region`, following until the body has settled.
    void reset(const Region& region);

    /// @param wanted where the landmarks of this picture would place the region
    /// @return the region for the next picture, `dt_s` later
    const Region& update(const Region& wanted, double dt_s);

    [[nodiscard]] const Region& region() const { return region_; }
    /// Whether the region was held at the last update.
    [[nodiscard]] bool held() const { return held_; }
    /// Held, but the body of the last picture was elsewhere.
    [[nodiscard]] bool in_doubt() const { return held_ && outside_ > 0; }

  private:
    [[nodiscard]] bool beyond(const Region& from, const Region& wanted, double share) const;
    void follow(const Region& wanted, double dt_s);

    KeeperSettings settings_;
    Region region_;
    OneEuro x_;
    OneEuro y_;
    OneEuro size_;
    OneEuro turn_;
    double scale_ = 1;      ///< side when following began: the filters work in shares of it
    Region anchor_;         ///< where the body was when it last moved on
    double settled_s_ = 0;  ///< how long it has been near the anchor
    int outside_ = 0;       ///< pictures in a row that wanted to leave
    bool held_ = false;
};

}  // namespace quarterturn::body
