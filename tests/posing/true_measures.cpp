#include "true_measures.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "body/landmark_series.hpp"

namespace quarterturn::test {
namespace {

using enum body::Joint;
using sample::TruePicture;
using sample::Vec;

constexpr double degree = std::numbers::pi / 180;
constexpr double heel_width = 0.036;  // as checks.hpp has it

Vec at(const TruePicture& picture, body::Joint joint) {
    return picture.points[static_cast<std::size_t>(joint)].m;
}

double level(const Vec& from, const Vec& to) {
    return std::atan2(std::abs(to.y - from.y), std::hypot(to.x - from.x, to.z - from.z)) / degree;
}

double bend(const Vec& shoulder, const Vec& elbow, const Vec& wrist) {
    const Vec a = shoulder - elbow, b = wrist - elbow;
    return std::acos(std::clamp(dot(a, b) / (length(a) * length(b)), -1.0, 1.0)) / degree;
}

Vec hand(const TruePicture& picture, bool left) {
    const std::array marks = left ? std::array{left_wrist, left_thumb, left_index_finger, left_little_finger}
                                  : std::array{right_wrist, right_thumb, right_index_finger, right_little_finger};
    Vec sum;
    for (const body::Joint mark : marks) sum = sum + 0.25 * at(picture, mark);
    return sum;
}

double yaw(const Vec& left, const Vec& right) {
    return std::atan2(-(left.z - right.z), left.x - right.x) / degree;
}

using Get = std::function<double(const TruePicture&)>;

std::map<std::string, Get> measures() {
    const auto hips_y = [](const TruePicture& p) { return (at(p, left_hip).y + at(p, right_hip).y) / 2; };
    return {{"shoulders_level", [](const auto& p) { return level(at(p, left_shoulder), at(p, right_shoulder)); }},
            {"elbows_matched",
             [](const auto& p) {
                 return std::abs(bend(at(p, left_shoulder), at(p, left_elbow), at(p, left_wrist)) -
                                 bend(at(p, right_shoulder), at(p, right_elbow), at(p, right_wrist)));
             }},
            {"upper_arms_level",
             [](const auto& p) {
                 return std::max(level(at(p, left_shoulder), at(p, left_elbow)),
                                 level(at(p, right_shoulder), at(p, right_elbow)));
             }},
            {"heel_distance", [](const auto& p) { return std::abs(at(p, left_heel).x - at(p, right_heel).x); }},
            {"hands_matched", [](const auto& p) { return std::abs(hand(p, true).y - hand(p, false).y); }},
            {"head_direction",
             [](const auto& p) {
                 return std::abs(std::remainder(
                     yaw(at(p, left_ear), at(p, right_ear)) - yaw(at(p, left_hip), at(p, right_hip)), 360.0));
             }},
            {"left_from_hip", [hips_y](const auto& p) { return hand(p, true).y - hips_y(p); }},
            {"right_from_hip", [hips_y](const auto& p) { return hand(p, false).y - hips_y(p); }}};
}

const posing::Segment* found_for(const posing::Analysis& analysis, const sample::TrueSegment& truth) {
    for (const posing::Segment& s : analysis.segments) {
        const double shared = std::min(s.end_s, truth.end_s) - std::max(s.start_s, truth.start_s);
        if (s.kind == posing::SegmentKind::hold && shared > 0.5 * truth.duration_s()) return &s;
    }
    return nullptr;
}

}  // namespace

std::map<std::string, double> true_measures(const sample::Truth& truth, const sample::TrueSegment& hold,
                                            double height_cm) {
    const double margin = std::min(0.5, hold.duration_s() / 5);
    std::map<std::string, double> out;
    for (const auto& [item, get] : measures()) {
        std::vector<double> values;
        for (const TruePicture& picture : truth.pictures)
            if (picture.t_s >= hold.start_s + margin && picture.t_s <= hold.end_s - margin)
                values.push_back(get(picture));
        if (values.empty()) continue;
        const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
        std::nth_element(values.begin(), half, values.end());
        const bool angle = item == "shoulders_level" || item == "elbows_matched" || item == "upper_arms_level" ||
                           item == "head_direction";
        out[item] = angle ? *half : 100 * *half;
    }
    if (out.contains("heel_distance"))
        out["heel_distance"] = std::max(0.0, out["heel_distance"] - heel_width * height_cm);
    return out;
}

rules::RuleSet with_every_check(rules::RuleSet rules) {
    for (rules::PoseExpectation& pose : rules.poses)
        for (const auto& id : rules::measured_items()) {
            if (pose.find_item(id) != nullptr) continue;
            rules::ChecklistItem& item = pose.items.emplace_back();
            item.id = item.text = id;
            item.measured = true;
        }
    return rules;
}

std::vector<MeasureError> measure_errors(const posing::Analysis& analysis, const sample::Truth& truth,
                                         double height_cm) {
    std::vector<MeasureError> out;
    for (const sample::TrueSegment& segment : truth.segments) {
        if (segment.kind != sample::TrueKind::hold) continue;
        const posing::Segment* found = found_for(analysis, segment);
        if (found == nullptr) continue;
        const auto known = true_measures(truth, segment, height_cm);
        const auto compare = [&](const std::string& item, const posing::Measured& measured) {
            const auto at = known.find(item);
            if (at != known.end() && measured.value)
                out.push_back({item, segment.pose, segment.start_s, at->second, *measured.value});
        };
        for (const posing::Check& check : found->checks) compare(check.item, check.value);
        if (!found->hands) continue;
        compare("left_from_hip", found->hands->left_from_hip);
        compare("right_from_hip", found->hands->right_from_hip);
    }
    return out;
}

}  // namespace quarterturn::test
