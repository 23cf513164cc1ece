#include "textured_trunk.hpp"

#include <cmath>
#include <numbers>

#include "body/surface_motion.hpp"

namespace quarterturn::body {
namespace {

constexpr int side = 280;
constexpr double middle_x = 140, shoulder_y = 60, hip_y = 210, waist_y = 165;

/// Smooth noise on a grid of 7-pixel cells, the same on every run.
double texture(double u, double v) {
    const auto at = [](int i, int k) {
        auto bits = (static_cast<std::uint32_t>(i) * 73856093U) ^ (static_cast<std::uint32_t>(k) * 19349663U);
        bits = (bits ^ (bits >> 15)) * 2246822519U;
        return static_cast<double>((bits ^ (bits >> 13)) & 255U) / 255;
    };
    const double x = u / 7, y = v / 7;
    const int i = static_cast<int>(std::floor(x)), k = static_cast<int>(std::floor(y));
    const auto soft = [](double t) { return t * t * (3 - 2 * t); };
    const double a = soft(x - i), b = soft(y - k);
    return (at(i, k) * (1 - a) + at(i + 1, k) * a) * (1 - b) + (at(i, k + 1) * (1 - a) + at(i + 1, k + 1) * a) * b;
}

/// @param across  from the outline's middle; @param along  radians round the body from its front
double smooth_skin(double across, double along, int row) {
    const double shading = 150 - 0.005 * across * across + 4 * std::sin(across / 8) * std::sin(row / 6.0);
    const double round = std::remainder(along, std::numbers::pi);  // from the nearer of front and back
    const double furrow = (25 + 8 * std::sin(row / 2.5)) * std::exp(-std::pow(round / 0.06, 2));
    const bool strap = row >= 100 && row < 108;
    return strap ? 45 + 0.05 * (shading - 150) : shading - furrow;
}

}  // namespace

TorsoPicture trunk_picture(const TrunkPose& pose) {
    TorsoPicture out;
    const double centre = middle_x + pose.aside_px;
    cv::Mat picture(side, side, CV_8U);
    out.edges.first_y = 20;
    out.edges.spacing = 2;
    for (int row = 0; row < side; ++row) {
        const double turned = row < waist_y ? pose.chest_deg : pose.pelvis_deg;
        const double yaw = (pose.yaw_deg + turned) * std::numbers::pi / 180;
        const auto section = TrunkSection::of(trunk_shoulder_width_px, pose.yaw_deg + turned);
        // The turn is about the line of the shoulders, behind the section's middle.
        const double base = pose.yaw_deg * std::numbers::pi / 180;
        const double moved = -trunk_ahead_share * trunk_shoulder_width_px * (std::sin(yaw) - std::sin(base));
        for (int column = 0; column < side; ++column) {
            const double x = column + 0.5 - centre - moved;
            const auto z = section.nearer(x);
            double grey = 210;
            if (z) {
                // In the body's own axes; yaw turns the front to the left in the picture.
                const double p = x * std::cos(yaw) + *z * std::sin(yaw), q = -x * std::sin(yaw) + *z * std::cos(yaw);
                const double along = std::atan2(p, q);
                grey = pose.smooth ? smooth_skin(column + 0.5 - centre, along, row)
                                   : 60 + 110 * texture(60 * along + 1000, row);
            }
            picture.at<std::uint8_t>(row, column) = static_cast<std::uint8_t>(grey);
        }
        if (row >= 20 && row % 2 == 0)
            out.edges.rows.push_back(
                {static_cast<float>(centre - section.reach()), static_cast<float>(centre + section.reach())});
    }
    out.grey = PackedGrey{picture};
    out.left_shoulder = {centre + 50, shoulder_y};
    out.right_shoulder = {centre - 50, shoulder_y};
    out.left_hip = {centre + 25, hip_y};
    out.right_hip = {centre - 25, hip_y};
    return out;
}

}  // namespace quarterturn::body
