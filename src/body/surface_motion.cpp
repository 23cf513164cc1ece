#include "body/surface_motion.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "body/feature_track.hpp"
#include "body/hip_edges.hpp"
#include "body/turn_fit.hpp"

namespace quarterturn::body {
namespace {

constexpr double half_width_share = 0.42, half_depth_share = 0.32;
constexpr double arm_from_share = 0.8;  // an edge further from the middle is an arm's
constexpr double degrees = 180 / std::numbers::pi;
constexpr double used_share = 0.8;    // towards the edge the surface is seen too flat
constexpr double middle_share = 0.4;  // what counts as the middle line of the pelvis
constexpr int edge_rows = 12;
constexpr double edge_from = 0.15, edge_to = 0.50;  // shoulder widths below the shoulders
constexpr int fewest_rows = 4;

/// From shoulders (0) to hips (1).
struct Band {
    double from = 0, to = 0;
};
constexpr Band chest{0.05, 0.55}, pelvis{0.80, 1.10};
// In side views the near arm hides most of the hips.
constexpr Band pelvis_and_thigh{0.80, 1.30};

struct RowMiddles {
    std::array<std::optional<double>, edge_rows> x;
    double mean_y = 0;
};

/// Below each shoulder's own height: the trunk's outline there goes where the shoulders go. Higher up the outline is
/// the deltoids', with raised arms the arms'.
RowMiddles chest_rows(const TorsoPicture& picture, double width) {
    const bool left_is_left = picture.left_shoulder.x < picture.right_shoulder.x;
    const double left_y = left_is_left ? picture.left_shoulder.y : picture.right_shoulder.y;
    const double right_y = left_is_left ? picture.right_shoulder.y : picture.left_shoulder.y;
    RowMiddles out;
    for (int i = 0; i < edge_rows; ++i) {
        const double below = (edge_from + (edge_to - edge_from) * i / (edge_rows - 1)) * width;
        const auto left = picture.edges.left_at(left_y + below), right = picture.edges.right_at(right_y + below);
        const double reach = arm_from_share * width, middle = picture.shoulders().x;
        if (left && right && *left > middle - reach && *right < middle + reach)
            out.x[static_cast<std::size_t>(i)] = (*left + *right) / 2;
    }
    out.mean_y = (left_y + right_y) / 2 + (edge_from + edge_to) / 2 * width;
    return out;
}

double median(std::vector<double>& values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

std::optional<double> shift_between(const RowMiddles& before, const RowMiddles& now) {
    std::vector<double> shifts;
    for (std::size_t i = 0; i < before.x.size(); ++i)
        if (before.x[i] && now.x[i]) shifts.push_back(*now.x[i] - *before.x[i]);
    if (shifts.size() < fewest_rows) return std::nullopt;
    return median(shifts);
}

/// Mean of each value and its neighbours; at the ends, where that would shift it in time, the value itself.
std::vector<std::optional<double>> steadied(const std::vector<std::optional<double>>& values) {
    std::vector<std::optional<double>> out = values;
    for (std::size_t i = 1; i + 1 < values.size(); ++i)
        if (values[i - 1] && values[i] && values[i + 1]) out[i] = (*values[i - 1] + *values[i] + *values[i + 1]) / 3;
    return out;
}

/// How the outline of a band moves, and at which height in the reference picture.
struct EdgeMotion {
    std::vector<std::optional<double>> shifts;
    double y = 0;
};

EdgeMotion chest_edges(const KeptPosture& posture) {
    const RowMiddles before = chest_rows(posture.pictures[posture.reference], posture.shoulder_width_px);
    std::vector<std::optional<double>> shifts;
    for (const TorsoPicture& picture : posture.pictures)
        shifts.push_back(shift_between(before, chest_rows(picture, posture.shoulder_width_px)));
    return {steadied(shifts), before.mean_y};
}

EdgeMotion hip_edges(const KeptPosture& posture) {
    return {steadied(hip_shifts(posture)), posture.pictures[posture.reference].hips().y};
}

bool on_an_arm(const KeptPosture& posture, Point place) {
    return !posture.forearms.empty() &&
           near_arm(posture.forearms[posture.reference], place, arm_half_width * posture.shoulder_width_px);
}

/// Where corners of the band are looked for in the reference picture: not on an arm before it.
cv::Mat band_mask(const KeptPosture& posture, Band band, double half_reach) {
    const TorsoPicture& picture = posture.pictures[posture.reference];
    cv::Mat mask(picture.grey.size(), CV_8U, cv::Scalar(0));
    const Point top = picture.shoulders(), bottom = picture.hips();
    for (int row = 0; row < mask.rows; ++row) {
        const double y = picture.origin.y + (row + 0.5) * picture.step;
        const double share = (y - top.y) / (bottom.y - top.y);
        if (share < band.from || share > band.to) continue;
        double left = top.x + share * (bottom.x - top.x) - half_reach, right = left + 2 * half_reach;
        const double margin = 3 * picture.step;
        if (const auto edge = picture.edges.left_at(y)) left = std::max(left, *edge + margin);
        if (const auto edge = picture.edges.right_at(y)) right = std::min(right, *edge - margin);
        const int first = std::max(0, static_cast<int>(std::ceil((left - picture.origin.x) / picture.step - 0.5)));
        const int last =
            std::min(mask.cols - 1, static_cast<int>(std::floor((right - picture.origin.x) / picture.step - 0.5)));
        for (int column = first; column <= last; ++column)
            if (!on_an_arm(posture, {picture.origin.x + (column + 0.5) * picture.step, y}))
                mask.at<unsigned char>(row, column) = 255;
    }
    return mask;
}

Point centre_of(const TorsoPicture& picture, Band band) {
    const double share = (band.from + band.to) / 2;
    const Point top = picture.shoulders(), bottom = picture.hips();
    return {top.x + share * (bottom.x - top.x), top.y + share * (bottom.y - top.y)};
}

/// Features of the band as the fit wants them: around the band's middle, with the section's depth.
std::vector<SurfaceShift> shifts_of(const std::vector<FeatureShift>& moved, Point centre, const TrunkSection& section,
                                    double ahead) {
    std::vector<SurfaceShift> out;
    for (const FeatureShift& feature : moved) {
        const double x = feature.from.x - centre.x;
        const auto nearer = section.nearer(x);
        if (nearer) out.push_back({x, feature.from.y - centre.y, *nearer + ahead, feature.dx, feature.dy});
    }
    return out;
}

/// A turn to the athlete's right (yaw grows) moves the near surface to the left in a picture that is not mirrored.
double in_facing_sense(double psi_rad, bool mirrored) {
    return (mirrored ? 1 : -1) * psi_rad * degrees;
}

/// Follows one band; `turn` makes a turn (radians) of the features, the outline's shift and its height.
template <class Edges, class Turn>
BandMotion follow(const KeptPosture& posture, Band band, double share, Edges edges_of, Turn turn) {
    BandMotion out;
    out.pictures.resize(posture.pictures.size());
    if (posture.pictures.empty() || posture.shoulder_width_px <= 0) return out;
    const TorsoPicture& reference = posture.pictures[posture.reference];
    const auto section =
        TrunkSection::of(posture.shoulder_width_px, posture.mirrored ? -posture.yaw_deg : posture.yaw_deg);
    const double ahead = trunk_ahead_share * posture.shoulder_width_px * std::cos(section.yaw_rad);
    const Point centre = centre_of(reference, band);
    const EdgeMotion edge = edges_of(posture);
    const std::vector<std::optional<double>>& edges = edge.shifts;
    const double edge_y = edge.y - centre.y;
    FeatureTrack track{reference, band_mask(posture, band, share * section.reach())};
    out.features = track.features();
    const auto visit = [&](std::size_t i) {
        BandMotion::At& at = out.pictures[i];
        at.shift_px = edges[i];
        const auto moved = shifts_of(track.find_in(posture.pictures[i]), centre, section, ahead);
        at.features = static_cast<int>(moved.size());
        if (at.features < fewest_features || !edges[i]) return;
        if (const auto psi = turn(moved, *edges[i], edge_y)) at.turn_deg = in_facing_sense(*psi, posture.mirrored);
    };
    for (std::size_t i = posture.reference; i < posture.pictures.size(); ++i) visit(i);
    track.start_again();
    for (std::size_t i = posture.reference; i-- > 0;) visit(i);
    return out;
}

std::optional<double> middle_turn(const std::vector<SurfaceShift>& moved, double shift, double) {
    std::vector<double> turns;
    for (const SurfaceShift& feature : moved)
        turns.push_back(std::asin(std::clamp((feature.dx - shift) / feature.nearer, -1.0, 1.0)));
    return median(turns);
}

}  // namespace

TrunkSection TrunkSection::of(double shoulder_width_px, double yaw_deg) {
    return {half_width_share * shoulder_width_px, half_depth_share * shoulder_width_px, yaw_deg / degrees};
}

double TrunkSection::reach() const {
    return std::hypot(half_width * std::cos(yaw_rad), half_depth * std::sin(yaw_rad));
}

std::optional<double> TrunkSection::nearer(double x) const {
    // With z towards the camera, the body's own axes are p = x c + z s and q = -x s + z c; p^2/a^2 + q^2/b^2 = 1.
    const double c = std::cos(yaw_rad), s = std::sin(yaw_rad);
    const double a2 = half_width * half_width, b2 = half_depth * half_depth;
    const double quadratic = s * s / a2 + c * c / b2, linear = x * s * c * (1 / a2 - 1 / b2);
    const double constant = x * x * (c * c / a2 + s * s / b2) - 1;
    const double root = linear * linear - quadratic * constant;
    if (root <= 0) return std::nullopt;
    return (-linear + std::sqrt(root)) / quadratic;
}

BandMotion chest_motion(const KeptPosture& posture) {
    return follow(posture, chest, used_share, chest_edges, fit_turn);
}

BandMotion pelvis_motion(const KeptPosture& posture) {
    const bool profile = std::abs(std::sin(posture.yaw_deg / degrees)) > side_view;
    return profile ? follow(posture, pelvis_and_thigh, used_share, hip_edges, middle_turn)
                   : follow(posture, pelvis, middle_share, hip_edges, middle_turn);
}

}  // namespace quarterturn::body
