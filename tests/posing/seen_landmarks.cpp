#include "seen_landmarks.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "timeline.hpp"

namespace quarterturn::test {
namespace {

using body::Body;
using body::landmark_count;
using sample::TruePicture;

constexpr double degree = std::numbers::pi / 180;

/// Errors that fade over a few pictures instead of jumping.
class Wander {
  public:
    Wander(double size, double keeps, std::uint32_t seed) : size_(size), keeps_(keeps), random_(seed) {}
    double next() {
        value_ = keeps_ * value_ + std::sqrt(1 - keeps_ * keeps_) * size_ * law_(random_);
        return value_;
    }

  private:
    double size_, keeps_, value_ = 0;
    std::mt19937 random_;
    std::normal_distribution<double> law_;
};

class Eye {
  public:
    Eye(const sample::Script& script, const SeeingErrors& errors)
        : script_(script), errors_(errors), random_(errors.seed) {
        for (std::uint32_t i = 0; i < 2 * landmark_count; ++i) {
            small_.emplace_back(errors.jitter, 0.5, errors.seed + i);
            large_.emplace_back(errors.hidden_jitter, 0.92, errors.seed + 1000 + i);
        }
    }

    body::LandmarkFrame look(const TruePicture& picture) {
        body::LandmarkFrame frame;
        frame.pts = picture.pts;
        frame.t_s = picture.t_s;
        const bool swapped = swaps(picture);
        if (!picture.points[23].in_picture || !picture.points[24].in_picture) return frame;
        Body body = points_of(picture);
        turn_hips(picture, body);
        if (errors_.feet_mixed > 0 || errors_.foot_lost > 0) mix_feet(picture, body);
        if (swapped) swap_trunk(body);
        if (script_.camera.mirrored) relabel(body);
        frame.body = body;
        frame.confidence = 0.95F;
        return frame;
    }

  private:
    [[nodiscard]] double height_px(const TruePicture& p) const {
        const double eyes = (p.points[2].y_px + p.points[5].y_px) / 2;
        const double soles = (p.points[29].y_px + p.points[30].y_px + p.points[31].y_px + p.points[32].y_px) / 4;
        return std::max(100.0, (soles - eyes) / 0.936);
    }

    Body points_of(const TruePicture& p) {
        Body out;
        const double height = height_px(p);
        const sample::Vec hips = 0.5 * (p.points[23].m + p.points[24].m);
        for (std::size_t i = 0; i < landmark_count; ++i) {
            const double seen = !p.points[i].in_picture ? 0.02 : visibility(p, i);
            const double keep = seen < 0.5 ? 1 : 0;
            const double dx = small_[2 * i].next() + keep * large_[2 * i].next();
            const double dy = small_[2 * i + 1].next() + keep * large_[2 * i + 1].next();
            out.landmarks[i] = {static_cast<float>(p.points[i].x_px + height * dx),
                                static_cast<float>(p.points[i].y_px + height * dy), static_cast<float>(seen), 1.0F};
            const sample::Vec m = p.points[i].m - hips;
            const double flip = script_.camera.mirrored ? -1 : 1;
            out.world[i] = {static_cast<float>(flip * m.x), static_cast<float>(-m.y), static_cast<float>(-m.z)};
        }
        return out;
    }

    /// Arms behind the trunk are guessed.
    [[nodiscard]] double visibility(const TruePicture& p, std::size_t i) const {
        if (i < 13 || i > 22) return 0.97;
        const bool left = i % 2 == 1;
        const double yaw = p.shoulder_yaw_deg * degree;
        const double away = (left ? -1 : 1) * std::sin(yaw);  // 1: this shoulder is turned away from the phone
        const sample::Vec middle = 0.25 * (p.points[11].m + p.points[12].m + p.points[23].m + p.points[24].m);
        const sample::Vec off = p.points[i].m - middle;
        const bool over_the_trunk = std::abs(off.x) < 0.14 && off.y < 0.3 && off.y > -0.35;
        if (away > 0.8 && std::abs(off.x) < 0.2) return 0.15;
        return over_the_trunk && off.z < -0.02 ? 0.3 : 0.97;
    }

    /// The network does not tell hips from shoulders well: twist is partly given to the hips.
    void turn_hips(const TruePicture& p, Body& body) const {
        const double turned = p.pelvis_yaw_deg + errors_.hips_follow * (p.shoulder_yaw_deg - p.pelvis_yaw_deg);
        const sample::Vec l = p.points[23].m, r = p.points[24].m;
        const double half_m = std::hypot(l.x - r.x, l.z - r.z) / 2;
        const double flip = script_.camera.mirrored ? -1 : 1;
        const double across = std::cos(turned * degree), along = std::sin(turned * degree);
        const float x = static_cast<float>(flip * half_m * across), z = static_cast<float>(-half_m * along);
        body.world[23] = {x, body.world[23].y, z};
        body.world[24] = {-x, body.world[24].y, -z};
        const double scale = (p.points[23].x_px - p.points[24].x_px);
        const double true_across = std::cos(p.pelvis_yaw_deg * degree);
        if (std::abs(true_across) < 0.3) return;
        const float shift = static_cast<float>(scale / 2 * (across / true_across - 1));
        body.landmarks[23].x += shift;
        body.landmarks[24].x -= shift;
    }

    bool swaps(const TruePicture& p) {
        if (p.t_s >= next_choice_s_) {
            next_choice_s_ = p.t_s + 1.0 / 3;
            swapped_ = std::uniform_real_distribution<double>(0, 1)(random_) < errors_.swap_chance;
        }
        return swapped_ && std::abs(std::cos(p.shoulder_yaw_deg * degree)) < 0.2;
    }

    /// As one foot passes the other the network takes it for that one now and then, for a few pictures, or loses it.
    void mix_feet(const TruePicture& p, Body& body) {
        constexpr std::array<std::size_t, 2> ankles{27, 28};
        constexpr double moves = 0.35, beside = 0.16, goes_on = 0.5, kept_back = 0.55,
                         up_the_leg = 0.25;  // m/s; heights
        std::uniform_real_distribution<double> chance(0, 1);
        const double height = height_px(p);
        const double apart = std::abs(p.points[27].x_px - p.points[28].x_px) / height;
        for (std::size_t foot = 0; foot < 2; ++foot) {
            const sample::Vec at = p.points[ankles[foot]].m;
            const double lasted = p.t_s - last_t_s_;
            const bool moving = last_t_s_ >= 0 && lasted > 0 && length(at - last_ankle_[foot]) / lasted > moves;
            last_ankle_[foot] = at;
            const double mixes = chance(random_), loses = chance(random_);
            mixed_[foot] = moving && apart < beside && mixes < (mixed_[foot] ? goes_on : errors_.feet_mixed);
            for (std::size_t i = ankles[foot]; i < landmark_count; i += 2) {
                const std::size_t other = foot == 0 ? i + 1 : i - 1;
                if (mixed_[foot]) {
                    body.landmarks[i].x += static_cast<float>(kept_back * (p.points[other].x_px - p.points[i].x_px));
                    body.landmarks[i].y += static_cast<float>(kept_back * (p.points[other].y_px - p.points[i].y_px));
                } else if (moving && loses < errors_.foot_lost) {
                    body.landmarks[i].y -= static_cast<float>(up_the_leg * height);
                    body.landmarks[i].visibility = 0.14F;
                }
            }
        }
        last_t_s_ = p.t_s;
    }

    static void swap_pair(Body& body, std::size_t left) {
        std::swap(body.landmarks[left], body.landmarks[left + 1]);
        std::swap(body.world[left], body.world[left + 1]);
    }
    static void swap_trunk(Body& body) {
        swap_pair(body, 11);
        swap_pair(body, 23);
    }
    /// In a mirrored film the network calls the athlete's left hand the right one.
    static void relabel(Body& body) {
        for (std::size_t i = 7; i < landmark_count; i += 2) swap_pair(body, i);
        for (std::size_t i = 1; i <= 3; ++i) {
            std::swap(body.landmarks[i], body.landmarks[i + 3]);
            std::swap(body.world[i], body.world[i + 3]);
        }
    }

    const sample::Script& script_;
    SeeingErrors errors_;
    std::mt19937 random_;
    std::vector<Wander> small_, large_;
    double next_choice_s_ = 0;
    bool swapped_ = false;
    double last_t_s_ = -1;
    std::array<sample::Vec, 2> last_ankle_{};
    std::array<bool, 2> mixed_{};
};

}  // namespace

body::LandmarkSeries seen_landmarks(const sample::Script& script, const sample::Truth& truth,
                                    const SeeingErrors& errors) {
    body::LandmarkSeries series;
    series.model = "full";
    series.version = "made up";
    series.rate_hz = errors.rate_hz;
    series.time_base = {1, 90000};
    series.width = script.film.width;
    series.height = script.film.height;
    Eye eye(script, errors);
    double next_s = 0;
    for (const TruePicture& picture : truth.pictures) {
        if (picture.t_s + 1e-6 < next_s) continue;
        series.frames.push_back(eye.look(picture));
        next_s += 1 / errors.rate_hz;
    }
    return series;
}

body::ClipFacts facts_of(const sample::Script& script, const sample::Truth& truth) {
    body::ClipFacts facts;
    facts.file = script.name + ".mp4";
    facts.fingerprint = "sha256:" + std::string(64, '0');
    facts.duration_s = truth.duration_s;
    facts.frames = static_cast<std::int64_t>(truth.pictures.size());
    facts.width = script.film.width;
    facts.height = script.film.height;
    facts.time_base = {1, 90000};
    facts.first_pts = truth.pictures.empty() ? 0 : truth.pictures.front().pts;
    facts.mirrored = script.camera.mirrored;
    return facts;
}

}  // namespace quarterturn::test
