#include "drawing.hpp"

#include <algorithm>
#include <optional>

#include "camera.hpp"
#include "canvas.hpp"
#include "painter.hpp"
#include "tiles.hpp"

namespace quarterturn::sample {
namespace {

std::array<float, 3> floats(Vec v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

struct Box {
    int left = 1 << 20, top = 1 << 20, right = -1, bottom = -1;  ///< right and bottom are the last pixels
    void take(double x, double y, double margin, int width, int height) {
        left = std::max(0, std::min(left, static_cast<int>(x - margin)));
        top = std::max(0, std::min(top, static_cast<int>(y - margin)));
        right = std::min(width - 1, std::max(right, static_cast<int>(x + margin)));
        bottom = std::min(height - 1, std::max(bottom, static_cast<int>(y + margin)));
    }
};

}  // namespace

struct Drawing::State {
    Script script;
    Timeline timeline;
    std::optional<Timeline> other;
    std::vector<std::int64_t> times;
    const FieldCode& code;
    RoomPaint room;
    std::vector<BodyPaint> paints;
    std::vector<double> heights;
    Canvas empty_room, canvas;
    bool room_ready = false;
    TileMap tiles;

    State(const Script& s, const FieldCode& c)
        : script(s), timeline(s), times(picture_times(s, timeline.duration_s())), code(c), room(s) {
        paints.emplace_back(script.body, false);
        heights.push_back(script.body.height_m);
        if (script.room.spectator) {
            other = Timeline::spectator(script);
            paints.emplace_back(other->script().body, true);
            heights.push_back(other->script().body.height_m);
        }
        empty_room.width = canvas.width = script.film.width;
        empty_room.height = canvas.height = script.film.height;
        empty_room.light.resize(static_cast<std::size_t>(canvas.width) * static_cast<std::size_t>(canvas.height) * 3);
    }

    Camera upright_camera(double t) const {
        Camera camera = camera_at(script, t);
        camera.mirrored = false;  // pictures are mirrored when they are developed
        return camera;
    }

    static Vec ray(const Camera& camera, double x, double y) {
        return (x - camera.width / 2) * camera.axes.x - (y - camera.height / 2) * camera.axes.y -
               camera.focal_px * camera.axes.z;
    }

    Flesh flesh_at(double t) const {
        Flesh flesh;
        add_flesh(script.body, timeline.bones(), timeline.at(t), flesh);
        if (!other) return flesh;
        const double own = t - script.room.spectator->at_s;
        if (own >= 0 && own <= other->duration_s())
            add_flesh(other->script().body, other->bones(), other->at(own), flesh);
        return flesh;
    }

    void draw_room(const Camera& camera) {
        if (room_ready && script.camera.shake_px == 0) return;
        room_ready = true;
        for (int y = 0; y < canvas.height; ++y)
            for (int x = 0; x < canvas.width; ++x) {
                const RoomPaint::Spot spot = room.look(camera.place, ray(camera, x + 0.5, y + 0.5));
                float* to = &empty_room.light[(static_cast<std::size_t>(y) * static_cast<std::size_t>(canvas.width) +
                                               static_cast<std::size_t>(x)) *
                                              3];
                for (std::size_t c = 0; c < 3; ++c) to[c] = static_cast<float>(spot.colour[c]);
            }
    }

    /// Pixels that a shadow on floor or wall can reach.
    Box shadow_box(const Camera& camera, const Flesh& flesh) const {
        Box box;
        const Vec light = key_light();
        for (const Caster& caster : flesh.casters) {
            for (const float end : {0.0F, 1.0F}) {
                const Vec p{static_cast<double>(caster.a[0] + end * caster.along[0]),
                            static_cast<double>(caster.a[1] + end * caster.along[1]),
                            static_cast<double>(caster.a[2] + end * caster.along[2])};
                const double down = p.y / light.y, back = (p.z + script.room.wall_m) / light.z;
                const Vec at = p - std::min(down, std::max(back, 0.0)) * light;
                const Camera::Seen seen = camera.see(at);
                if (seen.depth < 0.2) continue;
                const double margin = camera.focal_px / seen.depth *
                                      (static_cast<double>(caster.radius) + 0.06 * std::min(down, back) + 0.06);
                box.take(seen.x, seen.y, margin, canvas.width, canvas.height);
            }
        }
        return box;
    }

    void draw_shadow(const Camera& camera, const Flesh& flesh) {
        const Box box = shadow_box(camera, flesh);
        if (box.right < box.left) return;
        const auto count = static_cast<std::size_t>(box.right - box.left + 8) / 8 * 8;
        std::vector<float> x(count), y(count), z(count), lit(count);
        for (int row = box.top; row <= box.bottom; ++row) {
            for (std::size_t i = 0; i < count; ++i) {
                const Vec p =
                    room.look(camera.place, ray(camera, box.left + static_cast<double>(i) + 0.5, row + 0.5)).point;
                x[i] = static_cast<float>(p.x);
                y[i] = static_cast<float>(p.y);
                z[i] = static_cast<float>(p.z);
            }
            code.light_at(x.data(), y.data(), z.data(), lit.data(), static_cast<int>(count), flesh.casters.data(),
                          static_cast<int>(flesh.casters.size()), floats(key_light()));
            for (int column = box.left; column <= box.right; ++column) {
                float* to = &canvas.light[(static_cast<std::size_t>(row) * static_cast<std::size_t>(canvas.width) +
                                           static_cast<std::size_t>(column)) *
                                          3];
                const auto keep = static_cast<float>(mix(
                    RoomPaint::in_shadow, 1, static_cast<double>(lit[static_cast<std::size_t>(column - box.left)])));
                for (int c = 0; c < 3; ++c) to[c] *= keep;
            }
        }
    }

    void paint_tile(const Camera& camera, const Flesh& flesh, int tx, int ty, TileHits& hits) {
        const TileParts& parts = tiles.at(tx, ty);
        if (parts.tight.empty()) return;
        TileJob job;
        job.eye = floats(camera.place);
        job.corner = floats(ray(camera, tx * tile_size + 0.5, ty * tile_size + 0.5));
        job.right = floats(camera.axes.x);
        job.down = floats(-1 * camera.axes.y);
        job.pixel = static_cast<float>(1 / camera.focal_px);
        job.nearest = std::max(0.1F, parts.nearest);
        job.furthest = parts.furthest;
        job.parts = flesh.parts.data();
        job.tight = parts.tight.data();
        job.tight_count = static_cast<int>(parts.tight.size());
        job.wide = parts.wide.data();
        job.wide_count = static_cast<int>(parts.wide.size());
        job.casters = flesh.casters.data();
        job.caster_count = static_cast<int>(flesh.casters.size());
        job.light = floats(key_light());
        code.march_tile(job, hits);
        for (int i = 0; i < tile_pixels; ++i) {
            const int x = tx * tile_size + i % tile_size, y = ty * tile_size + i / tile_size;
            if (hits.cover[static_cast<std::size_t>(i)] > 0 && x < canvas.width && y < canvas.height)
                paint_pixel(camera, flesh, hits, static_cast<std::size_t>(i), x, y);
        }
    }

    void paint_pixel(const Camera& camera, const Flesh& flesh, const TileHits& hits, std::size_t i, int x, int y) {
        const Vec way = unit(ray(camera, x + 0.5, y + 0.5));
        const Vec point = camera.place + static_cast<double>(hits.distance[i]) * way;
        const auto part = static_cast<std::size_t>(hits.part[i]);
        const PartTag& tag = flesh.tags[part];
        const Paint paint =
            paints[tag.body].at(point, tag, flesh.parts[part], flesh.frames[tag.body], heights[tag.body]);
        const Vec normal{static_cast<double>(hits.nx[i]), static_cast<double>(hits.ny[i]),
                         static_cast<double>(hits.nz[i])};
        const Rgb colour =
            lit_surface(paint, normal, -1 * way, static_cast<double>(hits.open[i]), static_cast<double>(hits.lit[i]));
        float* to = &canvas.light[(static_cast<std::size_t>(y) * static_cast<std::size_t>(canvas.width) +
                                   static_cast<std::size_t>(x)) *
                                  3];
        const float cover = hits.cover[i];
        for (std::size_t c = 0; c < 3; ++c) to[c] += cover * (static_cast<float>(colour[c]) - to[c]);
    }

    void draw_moment(double t) {
        const Camera camera = upright_camera(t);
        const Flesh flesh = flesh_at(t);
        draw_room(camera);
        canvas.light = empty_room.light;
        draw_shadow(camera, flesh);
        tiles.sort(camera, flesh);
        TileHits hits;
        for (int ty = 0; ty < tiles.down(); ++ty)
            for (int tx = 0; tx < tiles.across(); ++tx) paint_tile(camera, flesh, tx, ty, hits);
    }

    /// With motion blur the mean of three moments while the shutter is open, half of a picture's length.
    void draw(double t) {
        if (!script.film.motion_blur) return draw_moment(t);
        const double open = 0.5 / script.film.rate;
        std::vector<float> sum(canvas.light.size() == 0 ? empty_room.light.size() : canvas.light.size(), 0.0F);
        for (const double part : {-1.0 / 3, 0.0, 1.0 / 3}) {
            draw_moment(t + part * open);
            for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += canvas.light[i] / 3;
        }
        canvas.light = sum;
    }
};

Drawing::Drawing(const Script& script, const FieldCode& code) : state_(std::make_unique<State>(script, code)) {}
Drawing::Drawing(Drawing&&) noexcept = default;
Drawing& Drawing::operator=(Drawing&&) noexcept = default;
Drawing::~Drawing() = default;

const std::vector<std::int64_t>& Drawing::times() const {
    return state_->times;
}
const Timeline& Drawing::timeline() const {
    return state_->timeline;
}

Drawn Drawing::picture(std::size_t rank) {
    return picture_at(static_cast<double>(state_->times.at(rank)) / ticks_per_second, rank);
}

Drawn Drawing::picture_at(double t_s, std::size_t rank) {
    state_->draw(t_s);
    const Script& script = state_->script;
    Development how;
    how.gain = 1.18 * (1 + script.film.exposure_drift * std::sin(0.35 * t_s + script.seed));
    how.noise = script.film.noise;
    how.seed = script.seed * 1000003U + static_cast<std::uint32_t>(rank);
    how.mirrored = script.camera.mirrored;
    return {script.film.width, script.film.height, develop(state_->canvas, how)};
}

}  // namespace quarterturn::sample
