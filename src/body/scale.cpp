#include "body/scale.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::body {
namespace {

constexpr double chain_share = 0.779;
constexpr double trunk_share = 0.288;
constexpr double eyes_to_soles_share = 0.936;
constexpr double seen_well = 0.5;
constexpr double steadied_over_s = 0.6;  ///< to either side

struct Chain {
    double trunk = 0;
    std::optional<double> leg;
};

double median_of(std::vector<double>& values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

struct Leg {
    Joint hip, knee, ankle;
};
constexpr std::array<Leg, 2> legs{Leg{Joint::left_hip, Joint::left_knee, Joint::left_ankle},
                                  Leg{Joint::right_hip, Joint::right_knee, Joint::right_ankle}};

std::optional<double> leg_length(const CourseFrame& frame) {
    double sum = 0, weight = 0;
    for (const Leg& leg : legs) {
        const double seen = std::min({frame[leg.hip].seen, frame[leg.knee].seen, frame[leg.ankle].seen});
        if (seen < seen_well) continue;
        sum += seen * (distance(frame[leg.hip], frame[leg.knee]) + distance(frame[leg.knee], frame[leg.ankle]));
        weight += seen;
    }
    return weight > 0 ? std::optional(sum / weight) : std::nullopt;
}

Chain chain_of(const CourseFrame& frame) {
    const CoursePoint shoulders = middle(frame[Joint::left_shoulder], frame[Joint::right_shoulder]);
    const CoursePoint hips = middle(frame[Joint::left_hip], frame[Joint::right_hip]);
    return {distance(shoulders, hips), leg_length(frame)};
}

/// Eyes to soles over the chain, where both can be seen and she stands broad to the phone.
std::optional<double> standing_over_chain(const CourseFrame& frame, const Chain& chain) {
    const CoursePoint eyes = middle(frame[Joint::left_eye], frame[Joint::right_eye]);
    const CoursePoint left = middle(frame[Joint::left_heel], frame[Joint::left_foot_tip]);
    const CoursePoint right = middle(frame[Joint::right_heel], frame[Joint::right_foot_tip]);
    const double broad = distance(frame[Joint::left_shoulder], frame[Joint::right_shoulder]);
    if (!chain.leg || std::min(left.seen, right.seen) < seen_well || broad < 0.5 * chain.trunk) return std::nullopt;
    const double standing = (left.y + right.y) / 2 - eyes.y;
    return standing / eyes_to_soles_share / (chain.trunk + *chain.leg);
}

/// Height over chain length for this body.
double height_over_chain(const BodyCourse& course, double& error) {
    std::vector<double> ratios;
    for (const CourseFrame& frame : course.frames) {
        if (!frame.present) continue;
        if (const auto ratio = standing_over_chain(frame, chain_of(frame))) ratios.push_back(*ratio);
    }
    error = 0.06;
    if (ratios.size() < 15) return 1 / chain_share;
    error = 0.03;
    return std::clamp(median_of(ratios), 0.88 / chain_share, 1.15 / chain_share);
}

std::vector<double> heights_of(const BodyCourse& course, double over_chain) {
    std::vector<double> heights;
    for (const CourseFrame& frame : course.frames) {
        const Chain chain = chain_of(frame);
        const double trunk_only = chain.trunk / trunk_share;
        heights.push_back(!frame.present ? 0 : chain.leg ? over_chain * (chain.trunk + *chain.leg) : trunk_only);
    }
    return heights;
}

}  // namespace

void measure_scale(BodyCourse& course) {
    const std::vector<double> raw = heights_of(course, height_over_chain(course, course.height_error));
    std::vector<double> all;
    std::size_t first = 0;
    for (std::size_t i = 0; i < course.frames.size(); ++i) {
        CourseFrame& frame = course.frames[i];
        if (!frame.present) continue;
        while (course.frames[first].t_s < frame.t_s - steadied_over_s) ++first;
        std::vector<double> near;
        for (std::size_t k = first; k < raw.size() && course.frames[k].t_s <= frame.t_s + steadied_over_s; ++k)
            if (course.frames[k].present) near.push_back(raw[k]);
        frame.height_px = std::max(1.0, median_of(near));
        all.push_back(frame.height_px);
    }
    if (!all.empty()) course.height_px = median_of(all);
}

}  // namespace quarterturn::body
