#include "true_widths.hpp"

#include <algorithm>

#include "camera.hpp"
#include "flesh.hpp"

namespace quarterturn::sample {
namespace {

constexpr int rows_per_band = 24;
constexpr double half_view_m = 0.6;      // further to the side nothing of a trunk is
constexpr double sample_m = 2.4 / 1024;  // between rays
constexpr int rays = tile_pixels;

std::array<float, 3> floats(Vec v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

bool of_trunk(Region region) {
    return region == Region::trunk || region == Region::pelvis;
}
bool with_arms(Region region) {
    return of_trunk(region) || region == Region::left_arm || region == Region::right_arm;
}
bool with_legs(Region region) {
    return of_trunk(region) || region == Region::left_leg || region == Region::right_leg;
}

/// Rows of rays through chosen parts of one body.
class RowCaster {
  public:
    RowCaster(const Camera& camera, const Flesh& flesh, Vec pelvis, bool (*chosen)(Region))
        : camera_(camera), flesh_(flesh), depth_(dot(camera.place - pelvis, camera.axes.z)) {
        for (std::size_t i = 0; i < flesh.parts.size(); ++i)
            if (chosen(flesh.tags[i].region)) which_.push_back(static_cast<std::uint16_t>(i));
    }

    /// Metres at the pelvis' distance, of the stretch around `x_px` that is body without a gap; 0 where there is none.
    [[nodiscard]] double width(double x_px, double y_px) const { return run(x_px, y_px, 1) + run(x_px, y_px, -1); }

  private:
    [[nodiscard]] Vec ray(double x, double y) const {
        return (x - camera_.width / 2) * camera_.axes.x - (y - camera_.height / 2) * camera_.axes.y -
               camera_.focal_px * camera_.axes.z;
    }

    [[nodiscard]] double run(double x_px, double y_px, double direction) const {
        const double step_px = direction * sample_m * camera_.focal_px / depth_;
        TileHits hits;
        double length = 0;
        for (int block = 0; block * rays * sample_m < half_view_m; ++block) {
            TileJob job;
            job.eye = floats(camera_.place);
            job.corner = floats(ray(x_px + (block * rays + 0.5) * step_px, y_px));
            job.right = floats(step_px * camera_.axes.x);
            job.down = floats(step_px * tile_size * camera_.axes.x);  // a tile's rows continue its first
            job.pixel = static_cast<float>(sample_m / depth_);
            job.nearest = 0.3F;
            job.furthest = static_cast<float>(depth_ * 1.5);
            job.parts = flesh_.parts.data();
            job.tight = which_.data();
            job.tight_count = static_cast<int>(which_.size());
            fastest_field().march_tile(job, hits);
            for (const float cover : hits.cover) {
                if (cover <= 0) return length;
                length += static_cast<double>(cover) * sample_m;
            }
        }
        return length;
    }

    const Camera& camera_;
    const Flesh& flesh_;
    double depth_;
    std::vector<std::uint16_t> which_;
};

bool hangs(Vec shoulder, Vec elbow, const Camera& camera) {
    const Camera::Seen a = camera.see(shoulder), b = camera.see(elbow);
    return b.y > a.y && std::abs(b.x - a.x) < std::tan(radians(35)) * (b.y - a.y);
}

}  // namespace

TrueWidths true_widths(const Timeline& timeline, double t_s) {
    const Script& script = timeline.script();
    const Skeleton s = timeline.at(t_s);
    Camera camera = camera_at(script, t_s);
    camera.mirrored = false;
    TrueWidths out;
    const Vec sight = camera.place - s.pelvis;
    const double yaw = degrees(line_yaw(s.hip[0], s.hip[1]) - std::atan2(-sight.x, sight.z));
    if (std::abs(std::remainder(yaw, 180)) > 15) return out;
    Flesh flesh;
    add_flesh(script.body, timeline.bones(), s, flesh);
    const double height_m = script.body.height_m + script.body.heels_m;
    const Camera::Seen left = camera.see(s.shoulder[0]), right = camera.see(s.shoulder[1]);
    const Camera::Seen top = camera.see(0.5 * (s.shoulder[0] + s.shoulder[1]));
    const Camera::Seen bottom = camera.see(0.5 * (s.hip[0] + s.hip[1]));
    const RowCaster arms{camera, flesh, s.pelvis, with_arms}, legs{camera, flesh, s.pelvis, with_legs};
    const auto row = [&](const RowCaster& caster, double share) {
        const double x = mix(top.x, bottom.x, std::min(share, 0.95));  // below, between the legs, there may be a gap
        return 100 * caster.width(x, mix(top.y, bottom.y, share)) / height_m;
    };
    if (hangs(s.shoulder[0], s.elbow[0], camera) && hangs(s.shoulder[1], s.elbow[1], camera)) {
        const double deep = 0.15 * std::abs(left.x - right.x) / (bottom.y - top.y);
        double sum = 0;
        for (int i = 0; i < rows_per_band; ++i) sum += row(arms, deep * i / (rows_per_band - 1));
        out.shoulders = sum / rows_per_band;
    }
    double narrow = 1e9, wide = 0;
    for (int i = 0; i < rows_per_band; ++i) {
        const double share = static_cast<double>(i) / (rows_per_band - 1);
        narrow = std::min(narrow, row(legs, mix(0.35, 0.85, share)));
        wide = std::max(wide, row(legs, mix(0.85, 1.2, share)));
    }
    out.waist = narrow;
    out.hips = wide;
    return out;
}

}  // namespace quarterturn::sample
