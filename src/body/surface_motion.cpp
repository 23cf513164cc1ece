#include "body/surface_motion.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "body/feature_track.hpp"
#include "body/hip_edges.hpp"
#include "body/steadied.hpp"
#include "body/surface_alignment.hpp"

namespace quarterturn::body {
namespace {

using Values = std::vector<std::optional<double>>;

constexpr double arm_from_share = 0.8;  // an edge further from the middle is an arm's
constexpr double degrees = 180 / std::numbers::pi;
constexpr double used_share = 0.8;    // towards the edge the surface is seen too flat
constexpr double middle_share = 0.4;  // what counts as the middle line of the pelvis
constexpr std::size_t fewest_rows = 4, fewest_pictures = 10;
constexpr double believed_share = 0.15;  // of a pixel of the mask: no row of the outline is known better

/// From shoulders (0) to hips (1).
struct Band {
    double from = 0, to = 0;
};
constexpr Band chest{0.05, 0.55}, pelvis{0.80, 1.10};
// In side views the near arm hides most of the hips.
constexpr Band pelvis_and_thigh{0.80, 1.30};

/// Rows of the outline, shoulder widths below the shoulders.
struct EdgeRows {
    double from = 0, to = 0;
    std::size_t count = 0;
    [[nodiscard]] double below(std::size_t i) const {
        return from + (to - from) * static_cast<double>(i) / static_cast<double>(count - 1);
    }
};
// Higher up the outline is the deltoids', with raised arms the arms'. Further down it is the waist's, which goes along
// less; but in profile there are no better rows where the upper ones lie before a patterned wall.
constexpr EdgeRows rows_of_chest{0.15, 0.50, 12}, rows_in_profile{0.15, 0.75, 20};

bool in_profile(const KeptPosture& posture) {
    return std::abs(std::sin(posture.yaw_deg / degrees)) > side_view;
}

/// Half way between both edges of each row, below each shoulder's own height: the trunk's outline there goes where the
/// shoulders go.
Values row_middles(const TorsoPicture& picture, const EdgeRows& rows, double width) {
    const bool left_is_left = picture.left_shoulder.x < picture.right_shoulder.x;
    const double left_y = left_is_left ? picture.left_shoulder.y : picture.right_shoulder.y;
    const double right_y = left_is_left ? picture.right_shoulder.y : picture.left_shoulder.y;
    const double reach = arm_from_share * width, middle = picture.shoulders().x;
    Values out(rows.count);
    for (std::size_t i = 0; i < rows.count; ++i) {
        const double below = rows.below(i) * width;
        const auto left = picture.edges.left_at(left_y + below), right = picture.edges.right_at(right_y + below);
        if (left && right && *left > middle - reach && *right < middle + reach) out[i] = (*left + *right) / 2;
    }
    return out;
}

double median(std::vector<double>& values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// What was followed of a band's surface, by picture.
struct Followed {
    int features = 0;
    std::vector<std::vector<FeatureShift>> moved;
    std::vector<std::optional<Point>> middle;  ///< movement; absent where too few were found
};

Point middle_of(const std::vector<FeatureShift>& moved) {
    std::vector<double> across, down;
    for (const FeatureShift& feature : moved) {
        across.push_back(feature.dx);
        down.push_back(feature.dy);
    }
    return {median(across), median(down)};
}

Followed follow(const KeptPosture& posture, const cv::Mat& where) {
    FeatureTrack track{posture.pictures[posture.reference], where};
    Followed out{track.features(), std::vector<std::vector<FeatureShift>>(posture.pictures.size()), {}};
    const auto visit = [&](std::size_t i) { out.moved[i] = track.find_in(posture.pictures[i]); };
    for (std::size_t i = posture.reference; i < posture.pictures.size(); ++i) visit(i);
    track.start_again();
    for (std::size_t i = posture.reference; i-- > 0;) visit(i);
    for (const auto& moved : out.moved)
        out.middle.push_back(moved.size() < fewest_features ? std::nullopt : std::optional{middle_of(moved)});
    return out;
}

/// Where the outline sticks to a pattern of the wall or jumps to an arm it does not answer to the body's movement: the
/// RMS of what a straight line from the surface's movement to the row's leaves over. Absent: seen too seldom to tell.
std::optional<double> stray_of(const Values& row, const Followed& surface) {
    double count = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
    for (std::size_t i = 0; i < row.size(); ++i) {
        if (!row[i] || !surface.middle[i]) continue;
        const double dx = surface.middle[i]->x;
        ++count;
        x += dx;
        y += *row[i];
        xx += dx * dx;
        xy += dx * *row[i];
        yy += *row[i] * *row[i];
    }
    if (count < fewest_pictures) return std::nullopt;
    const double sxx = xx - x * x / count, sxy = xy - x * y / count, syy = yy - y * y / count;
    return std::sqrt(std::max(0.0, syy - (sxx > 0 ? sxy * sxy / sxx : 0)) / count);
}

struct Weighted {
    double value = 0, weight = 0;
};

double weighted_median(std::vector<Weighted> all) {
    std::sort(all.begin(), all.end(), [](const Weighted& a, const Weighted& b) { return a.value < b.value; });
    double half = 0;
    for (const Weighted& one : all) half += one.weight / 2;
    for (const Weighted& one : all)
        if ((half -= one.weight) <= 0) return one.value;
    return all.back().value;
}

/// How the outline of a band moves, and at which height in the reference picture.
struct EdgeMotion {
    Values shifts;
    double y = 0;
};

EdgeMotion chest_edges(const KeptPosture& posture, const Followed& surface) {
    const EdgeRows rows = in_profile(posture) ? rows_in_profile : rows_of_chest;
    const double width = posture.shoulder_width_px;
    const TorsoPicture& reference = posture.pictures[posture.reference];
    const Values before = row_middles(reference, rows, width);
    std::vector<Values> shifts(rows.count, Values(posture.pictures.size()));  // of each row, by picture
    for (std::size_t i = 0; i < posture.pictures.size(); ++i) {
        const Values now = row_middles(posture.pictures[i], rows, width);
        for (std::size_t row = 0; row < rows.count; ++row)
            if (before[row] && now[row]) shifts[row][i] = *now[row] - *before[row];
    }
    const double believed = believed_share * reference.edges.spacing;
    std::vector<double> weights;
    for (const Values& row : shifts) {
        const double stray = stray_of(row, surface).value_or(believed);
        weights.push_back(1 / (believed * believed + stray * stray));
    }
    EdgeMotion out{{}, reference.shoulders().y + (rows.from + rows.to) / 2 * width};
    for (std::size_t i = 0; i < posture.pictures.size(); ++i) {
        std::vector<Weighted> seen;
        for (std::size_t row = 0; row < rows.count; ++row)
            if (shifts[row][i]) seen.push_back({*shifts[row][i], weights[row]});
        out.shifts.push_back(seen.size() < fewest_rows ? std::nullopt : std::optional{weighted_median(seen)});
    }
    return out;
}

/// Mean of three pictures of how the outline moves beside the surface: what moves both, a sway or the shake of the
/// phone, may be quicker than that.
Values steadied_beside(const Values& shifts, const Followed& surface) {
    Values beside = shifts;
    for (std::size_t i = 0; i < shifts.size(); ++i)
        if (shifts[i]) beside[i] = surface.middle[i] ? std::optional{*shifts[i] - surface.middle[i]->x} : std::nullopt;
    Values out = steadied(beside);
    for (std::size_t i = 0; i < out.size(); ++i)
        if (out[i]) *out[i] += surface.middle[i]->x;
    return out;
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

/// A turn to the athlete's right (yaw grows) moves the near surface to the left in a picture that is not mirrored.
double in_facing_sense(double psi_rad, bool mirrored) {
    return (mirrored ? 1 : -1) * psi_rad * degrees;
}

BandShape shape_of(const KeptPosture& posture, Band band) {
    const auto section =
        TrunkSection::of(posture.shoulder_width_px, posture.mirrored ? -posture.yaw_deg : posture.yaw_deg);
    return {centre_of(posture.pictures[posture.reference], band), section,
            trunk_ahead_share * posture.shoulder_width_px * std::cos(section.yaw_rad)};
}

std::optional<double> middle_turn(const std::vector<FeatureShift>& moved, const BandShape& shape, double shift) {
    std::vector<double> turns;
    for (const FeatureShift& feature : moved)
        if (const auto nearer = shape.section.nearer(feature.from.x - shape.centre.x))
            turns.push_back(std::asin(std::clamp((feature.dx - shift) / (*nearer + shape.ahead), -1.0, 1.0)));
    if (turns.size() < fewest_features) return std::nullopt;
    return median(turns);
}

/// What is told without the turn; `edges` as raw as they come.
BandMotion motion_of(const Followed& followed, const Values& edges) {
    BandMotion out;
    out.features = followed.features;
    for (std::size_t i = 0; i < edges.size(); ++i)
        out.pictures.push_back({std::nullopt, edges[i], static_cast<int>(followed.moved[i].size())});
    return out;
}

bool nothing_to_see(const KeptPosture& posture) {
    return posture.pictures.empty() || posture.shoulder_width_px <= 0;
}

}  // namespace

BandMotion chest_motion(const KeptPosture& posture) {
    if (nothing_to_see(posture)) return {std::vector<BandMotion::At>(posture.pictures.size()), 0};
    const BandShape shape = shape_of(posture, chest);
    const cv::Mat where = band_mask(posture, chest, used_share * shape.section.reach());
    const Followed followed = follow(posture, where);
    const EdgeMotion edges = chest_edges(posture, followed);
    BandMotion out = motion_of(followed, edges.shifts);
    const Values outline = steadied_beside(edges.shifts, followed);
    const SurfaceAlignment surface{posture.pictures[posture.reference], where, shape};
    for (std::size_t i = 0; i < outline.size(); ++i) {
        if (!outline[i]) continue;
        const auto psi =
            surface.turn_in(posture.pictures[i], {*outline[i], edges.y - shape.centre.y, *followed.middle[i]});
        if (psi) out.pictures[i].turn_deg = in_facing_sense(*psi, posture.mirrored);
    }
    return out;
}

BandMotion pelvis_motion(const KeptPosture& posture) {
    if (nothing_to_see(posture)) return {std::vector<BandMotion::At>(posture.pictures.size()), 0};
    const Band band = in_profile(posture) ? pelvis_and_thigh : pelvis;
    const BandShape shape = shape_of(posture, band);
    const double share = in_profile(posture) ? used_share : middle_share;
    const Followed followed = follow(posture, band_mask(posture, band, share * shape.section.reach()));
    const Values shifts = hip_shifts(posture);
    BandMotion out = motion_of(followed, shifts);
    const Values outline = steadied_beside(shifts, followed);
    for (std::size_t i = 0; i < outline.size(); ++i) {
        if (!outline[i]) continue;
        if (const auto psi = middle_turn(followed.moved[i], shape, *outline[i]))
            out.pictures[i].turn_deg = in_facing_sense(*psi, posture.mirrored);
    }
    return out;
}

}  // namespace quarterturn::body
