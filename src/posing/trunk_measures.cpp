#include "posing/trunk_measures.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "body/steadied.hpp"
#include "posing/silhouette_widths.hpp"
#include "posing/sway.hpp"
#include "posing/twist.hpp"

namespace quarterturn::posing {
namespace {

// The first pictures of a hold still come to rest.
constexpr std::size_t reference_picture = 2;
// Shoulder width over body height as the networks' landmarks have it, for clips without a front or back view.
constexpr double usual_width = 0.21, least_width = 0.17;
// The body's height read in one pose is off by up to 15 % when a leg is misread; she rarely comes so much nearer.
constexpr double same_place_share = 0.15;
constexpr double stays_within_deg = 15;  // facing, from begin to end of a transition
constexpr double mostly = 0.6;           // pictures with an outline

double quantile(std::vector<double> values, double share) {
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

class TrunkMeasurer {
  public:
    TrunkMeasurer(LandmarkAnalysis& analysis, const LandmarkInput& input, std::span<const body::TorsoPicture> pictures,
                  std::optional<double> bits_per_pixel)
        : out_(analysis), input_(input), pictures_(pictures), bits_per_pixel_(bits_per_pixel), width_(width()) {}

    void measure_hold(Segment& hold) {
        const auto kept = kept_in(hold);
        const double height_px = height_in(hold);
        if (kept.size() <= reference_picture || height_px <= 0) return refuse(hold);
        hold.widths = widths_in(hold, kept, height_px);
        const TwistEvidence seen = evidence_in(kept, reference_in(kept), hold.facing_deg.value, height_px);
        const double unit = out_.analysis.height_cm.value_or(100) / height_px;
        fill(hold, kept, seen, unit);
    }

    void measure_transition(Segment& transition) const {
        const auto absent = [&](const char* reason) {
            const Measured none{std::nullopt, reason};
            transition.trunk = TrunkMovement{none, none};
        };
        if (!transition.turn_deg.value) return absent("it is not known how far she turns");
        if (std::abs(*transition.turn_deg.value) > stays_within_deg)
            return absent("she turns: which of the two moves is told only where she keeps her direction");
        const auto kept = kept_in(transition);
        const double height_px = height_in(transition);
        if (height_px <= 0 || static_cast<double>(kept.size()) < mostly * static_cast<double>(looked_at(transition)))
            return absent("it is too fast for the outline to be followed");
        const TwistEvidence seen = evidence_in(kept, 0, facing_in(transition), height_px);
        const double unit = out_.analysis.height_cm.value_or(100) / height_px;
        const std::vector<double> times = seconds_of(kept);
        const Sway sway = sway_of(times, sideways_of(kept, times, seen, unit));
        Measured twist = twist_of(seen).twist.range;
        // Arms on their way carry the skin of chest and hips along.
        if (!twist.value) twist.reason = "chest and hips cannot be followed apart while the arms move";
        transition.trunk = TrunkMovement{twist, sway.peak_to_peak};
    }

  private:
    [[nodiscard]] double seconds(std::int64_t pts) const {
        return seconds_between(input_.clip.first_pts, pts, input_.clip.time_base) * input_.clip.time_scale;
    }

    [[nodiscard]] std::span<const body::TorsoPicture> kept_in(const Segment& segment) const {
        const auto first = std::partition_point(pictures_.begin(), pictures_.end(),
                                                [&](const auto& picture) { return picture.pts < segment.start_pts; });
        const auto last = std::partition_point(first, pictures_.end(),
                                               [&](const auto& picture) { return picture.pts <= segment.end_pts; });
        return {first, last};
    }

    [[nodiscard]] TwistEvidence evidence_in(std::span<const body::TorsoPicture> kept, std::size_t reference,
                                            const std::optional<double>& facing_deg, double height_px) const {
        body::KeptPosture posture;
        posture.pictures = kept;
        posture.reference = reference;
        posture.shoulder_width_px = width_ * height_px;
        posture.yaw_deg = facing_deg.value_or(0);
        posture.mirrored = input_.clip.mirrored;
        const std::vector<body::Forearms> forearms = forearms_in(kept);
        posture.forearms = forearms;
        TwistEvidence seen{body::chest_motion(posture), body::pelvis_motion(posture), {}, facing_deg, bits_per_pixel_};
        for (std::size_t i = 0; i < kept.size(); ++i) {
            const double across = kept[i].left_shoulder.x - kept[i].right_shoulder.x;
            seen.shoulder_separation.emplace_back(across / posture.shoulder_width_px);
            const bool left_is_near = (posture.yaw_deg > 0) != posture.mirrored;
            const double hip = (left_is_near ? kept[i].left_hip : kept[i].right_hip).x;
            seen.near_hip.emplace_back((posture.mirrored ? -hip : hip) / posture.shoulder_width_px);
            if (!in_company(kept[i].pts)) continue;
            seen.chest.pictures[i] = seen.pelvis.pictures[i] = {};
            seen.shoulder_separation[i].reset();
            seen.near_hip[i].reset();
        }
        return seen;
    }

    /// Somebody else's body may be part of the outline, which it touches before it confuses the joints.
    [[nodiscard]] bool in_company(std::int64_t pts) const {
        constexpr double beside_s = 0.4;
        const auto& frames = out_.seen.course.frames;
        const double t_s = seconds(pts);
        auto at = std::partition_point(frames.begin(), frames.end(),
                                       [&](const auto& frame) { return frame.t_s < t_s - beside_s; });
        for (; at != frames.end() && at->t_s <= t_s + beside_s; ++at)
            if (at->company) return true;
        return false;
    }

    [[nodiscard]] std::size_t reference_in(std::span<const body::TorsoPicture> kept) const {
        for (std::size_t i = reference_picture; i < kept.size(); ++i)
            if (!in_company(kept[i].pts)) return i;
        return reference_picture;
    }

    [[nodiscard]] std::size_t looked_at(const Segment& segment) const {
        const auto& frames = out_.seen.course.frames;
        return static_cast<std::size_t>(std::count_if(frames.begin(), frames.end(), [&](const auto& frame) {
            return frame.pts >= segment.start_pts && frame.pts <= segment.end_pts;
        }));
    }

    /// In the middle of a stretch.
    [[nodiscard]] std::optional<double> facing_in(const Segment& segment) const {
        const Signals& signals = out_.analysis.signals;
        const auto at = std::lower_bound(signals.t_s.begin(), signals.t_s.end(), (segment.start_s + segment.end_s) / 2);
        if (at == signals.t_s.end()) return std::nullopt;
        return signals.facing_deg[static_cast<std::size_t>(at - signals.t_s.begin())];
    }

    [[nodiscard]] std::vector<double> seconds_of(std::span<const body::TorsoPicture> kept) const {
        std::vector<double> times;
        for (const body::TorsoPicture& picture : kept) times.push_back(seconds(picture.pts));
        return times;
    }

    /// The hips to the right as the judges see it; what the picture itself moved is taken off.
    [[nodiscard]] std::vector<std::optional<double>> sideways_of(std::span<const body::TorsoPicture> kept,
                                                                 const std::vector<double>& times,
                                                                 const TwistEvidence& seen, double unit) const {
        std::vector<std::optional<double>> out(times.size());
        for (std::size_t i = 0; i < times.size(); ++i)
            if (const auto& shift = seen.pelvis.pictures[i].shift_px)
                out[i] = (input_.clip.mirrored ? -1 : 1) * (*shift - shaken_by(kept[i], times[i])) * unit;
        return body::steadied(out);
    }

    /// The widest she shows her shoulders while posing, in body heights.
    [[nodiscard]] double width() const {
        std::vector<double> shares;
        for (const body::CourseFrame& frame : out_.seen.course.frames) {
            if (!frame.present || !frame.held || frame.height_px <= 0) continue;
            const double across = frame[body::Joint::left_shoulder].x - frame[body::Joint::right_shoulder].x;
            shares.push_back(std::abs(across) / steady_height(frame.height_px));
        }
        if (shares.empty()) return usual_width;
        const double widest = quantile(std::move(shares), 0.95);
        return widest < least_width ? usual_width : widest;
    }

    /// The clip's own height in pixels unless she stands clearly nearer or further here.
    [[nodiscard]] double steady_height(double here_px) const {
        const double usual = out_.seen.course.height_px;
        return std::abs(here_px / usual - 1) < same_place_share ? usual : here_px;
    }

    [[nodiscard]] double height_in(const Segment& hold) const {
        std::vector<double> heights;
        for (const body::CourseFrame& frame : out_.seen.course.frames)
            if (frame.present && frame.t_s >= hold.start_s && frame.t_s <= hold.end_s)
                heights.push_back(frame.height_px);
        return heights.empty() ? 0 : steady_height(quantile(std::move(heights), 0.5));
    }

    [[nodiscard]] const body::Body* body_at(std::int64_t pts) const {
        const auto& frames = input_.series.frames;
        const auto at = std::partition_point(frames.begin(), frames.end(), [&](const auto& f) { return f.pts < pts; });
        return at != frames.end() && at->pts == pts && at->body ? &*at->body : nullptr;
    }

    [[nodiscard]] std::vector<body::Forearms> forearms_in(std::span<const body::TorsoPicture> kept) const {
        using enum body::Joint;
        std::vector<body::Forearms> out;
        for (const body::TorsoPicture& picture : kept) {
            const body::Body* body = body_at(picture.pts);
            if (body == nullptr) return {};
            const auto at = [&](body::Joint joint) {
                const body::Landmark& point = (*body)[joint];
                return body::Point{static_cast<double>(point.x), static_cast<double>(point.y)};
            };
            out.push_back({{at(left_elbow), at(left_wrist), at(left_index_finger)},
                           {at(right_elbow), at(right_wrist), at(right_index_finger)}});
        }
        return out;
    }

    /// From the pictures around the steadiest one.
    [[nodiscard]] Widths widths_in(const Segment& hold, std::span<const body::TorsoPicture> kept,
                                   double height_px) const {
        const auto later = std::partition_point(kept.begin(), kept.end(),
                                                [&](const auto& picture) { return picture.pts < hold.steadiest_pts; });
        const auto middle = static_cast<std::size_t>(later - kept.begin());
        const std::size_t first = middle - std::min(middle, width_pictures / 2);
        std::vector<body::OutlineWidths> seen;
        for (std::size_t i = first; i < std::min(kept.size(), first + width_pictures); ++i)
            if (const body::Body* body = body_at(kept[i].pts); body != nullptr && !in_company(kept[i].pts))
                seen.push_back(body::outline_widths(kept[i], *body, height_px));
        return silhouette_widths(seen, height_px, hold.facing_deg);
    }

    static void refuse(Segment& hold) {
        const Measured none{std::nullopt, "the body was not followed steadily enough in this hold"};
        hold.widths = Widths{none, none, none, 0};
        hold.twist = {none, none, none};
        hold.sway = {none, none, none};
    }

    /// How far the phone's own movement has carried the hips across the picture.
    [[nodiscard]] double shaken_by(const body::TorsoPicture& picture, double t_s) const {
        if (input_.shake.empty()) return 0;
        const body::Point hips = picture.hips();
        const body::Point still =
            body::steadied(hips, body::shake_at(input_.shake, t_s), out_.seen.course.width, out_.seen.course.height);
        const double tilt = input_.tilt_deg.value_or(0) * std::numbers::pi / 180;
        return std::cos(tilt) * (hips.x - still.x) - std::sin(tilt) * (hips.y - still.y);
    }

    void fill(Segment& hold, std::span<const body::TorsoPicture> kept, const TwistEvidence& seen, double unit) {
        const std::vector<double> times = seconds_of(kept);
        std::vector<std::optional<double>> sideways = sideways_of(kept, times, seen, unit);
        hold.sway = sway_of(times, sideways);
        const TwistFound found = twist_of(seen);
        hold.twist = found.twist;
        if (found.twist.rms.value) hold.twist.drift = drift_of(times, found.change_deg);
        if (hold.sway.rms.value) put_curve(out_.analysis.signals.sway_cm, times, from_mean(std::move(sideways)));
        if (!found.change_deg.empty()) put_curve(out_.analysis.signals.twist_deg, times, found.change_deg);
    }

    static std::vector<std::optional<double>> from_mean(std::vector<std::optional<double>> values) {
        double sum = 0;
        int count = 0;
        for (const auto& value : values) {
            if (!value) continue;
            sum += *value;
            ++count;
        }
        for (auto& value : values)
            if (value) *value -= sum / count;
        return values;
    }

    void put_curve(std::vector<std::optional<double>>& curve, const std::vector<double>& times,
                   const std::vector<std::optional<double>>& values) const {
        const std::vector<double>& all = out_.analysis.signals.t_s;
        for (std::size_t i = 0; i < times.size(); ++i) {
            const auto at = std::lower_bound(all.begin(), all.end(), times[i] - 1e-6);
            const auto place = static_cast<std::size_t>(at - all.begin());
            if (at != all.end() && *at < times[i] + 1e-6 && place < curve.size()) curve[place] = values[i];
        }
    }

    LandmarkAnalysis& out_;
    const LandmarkInput& input_;
    std::span<const body::TorsoPicture> pictures_;
    std::optional<double> bits_per_pixel_;
    double width_;
};

}  // namespace

void measure_trunk(LandmarkAnalysis& analysis, const LandmarkInput& input, std::span<const body::TorsoPicture> pictures,
                   std::optional<double> bits_per_pixel) {
    TrunkMeasurer measurer{analysis, input, pictures, bits_per_pixel};
    for (Segment& segment : analysis.analysis.segments) {
        if (segment.kind == SegmentKind::hold) measurer.measure_hold(segment);
        if (segment.kind == SegmentKind::transition) measurer.measure_transition(segment);
    }
}

}  // namespace quarterturn::posing
