#include "app/drawing.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

namespace quarterturn::app {
namespace {

struct KindName {
    DrawingKind kind;
    std::string_view id, title;
};
constexpr std::array names{
    KindName{DrawingKind::level, "level", "Level"}, KindName{DrawingKind::upright, "upright", "Upright"},
    KindName{DrawingKind::angle, "angle", "Angle"}, KindName{DrawingKind::ring, "ring", "Ring"},
    KindName{DrawingKind::arrow, "arrow", "Arrow"}, KindName{DrawingKind::stroke, "stroke", "Stroke"},
};

double rounded(double share) {
    return std::round(share * 1e5) / 1e5;
}

std::optional<Spot> spot_of(const nlohmann::json& value) {
    if (!value.is_array() || value.size() != 2 || !value[0].is_number() || !value[1].is_number()) return std::nullopt;
    const Spot spot{value[0].get<double>(), value[1].get<double>()};
    if (!std::isfinite(spot.x) || !std::isfinite(spot.y)) return std::nullopt;
    return spot;
}

}  // namespace

std::string_view drawing_kind_id(DrawingKind kind) {
    return names.at(static_cast<std::size_t>(kind)).id;
}

std::string_view drawing_kind_title(DrawingKind kind) {
    return names.at(static_cast<std::size_t>(kind)).title;
}

std::string write_drawing(const Drawing& drawing) {
    // Names sorted and without blanks, as the library writes it: it keeps a drawing only as it would write it itself.
    nlohmann::json document{{"kind", drawing_kind_id(drawing.kind)}};
    for (const Spot& spot : drawing.points) document["points"].push_back({rounded(spot.x), rounded(spot.y)});
    if (!drawing.joints.empty()) document["joints"] = drawing.joints;
    return document.dump();
}

Result<Drawing> read_drawing(std::string_view text) {
    const Error strange{ErrorCode::bad_input, "This drawing was made by another program and cannot be shown."};
    const auto document = nlohmann::json::parse(text, nullptr, false);
    if (!document.is_object()) return strange;
    const auto kind = document.find("kind");
    const auto points = document.find("points");
    if (kind == document.end() || !kind->is_string() || points == document.end() || !points->is_array()) return strange;
    const auto* name = std::find_if(names.begin(), names.end(), [&](const KindName& n) { return n.id == *kind; });
    if (name == names.end()) return strange;
    Drawing drawing{name->kind, {}, {}};
    for (const auto& value : *points) {
        const auto spot = spot_of(value);
        if (!spot) return strange;
        drawing.points.push_back(*spot);
    }
    const std::size_t needed = points_needed(drawing.kind);
    if (needed > 0 ? drawing.points.size() != needed : drawing.points.size() < 2) return strange;
    if (const auto joints = document.find("joints"); joints != document.end() && joints->is_array())
        for (const auto& joint : *joints) drawing.joints.push_back(joint.is_string() ? joint.get<std::string>() : "");
    if (!drawing.joints.empty()) drawing.joints.resize(drawing.points.size());
    return drawing;
}

std::size_t points_needed(DrawingKind kind) {
    switch (kind) {
        case DrawingKind::level:
        case DrawingKind::upright:
            return 1;
        case DrawingKind::angle:
            return 3;
        case DrawingKind::ring:
        case DrawingKind::arrow:
            return 2;
        case DrawingKind::stroke:
            return 0;
    }
    return 0;
}

std::optional<double> angle_at(Spot end, Spot corner, Spot other, double aspect) {
    const double ax = (end.x - corner.x) * aspect;
    const double ay = end.y - corner.y;
    const double bx = (other.x - corner.x) * aspect;
    const double by = other.y - corner.y;
    if (std::hypot(ax, ay) < 1e-9 || std::hypot(bx, by) < 1e-9) return std::nullopt;
    return std::abs(std::atan2(ax * by - ay * bx, ax * bx + ay * by)) * 180 / std::numbers::pi;
}

std::optional<NamedSpot> nearest_joint(Spot spot, const std::vector<NamedSpot>& joints, double reach, double aspect) {
    std::optional<NamedSpot> nearest;
    double best = reach;
    for (const NamedSpot& joint : joints) {
        const double distance = std::hypot((joint.spot.x - spot.x) * aspect, joint.spot.y - spot.y);
        if (distance > best) continue;
        best = distance;
        nearest = joint;
    }
    return nearest;
}

Drawing following_joints(Drawing drawing, const std::vector<NamedSpot>& joints) {
    for (std::size_t i = 0; i < std::min(drawing.joints.size(), drawing.points.size()); ++i) {
        const auto joint =
            std::find_if(joints.begin(), joints.end(), [&](const NamedSpot& j) { return j.name == drawing.joints[i]; });
        if (joint != joints.end() && !drawing.joints[i].empty()) drawing.points[i] = joint->spot;
    }
    return drawing;
}

}  // namespace quarterturn::app
