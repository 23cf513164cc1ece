#pragma once
/// What a person draws on a paused picture: in picture coordinates, kept with a note as a JSON text
/// (docs/library_format.md says: drawings are kept as they are; this is what the program itself writes).
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/picture_view.hpp"
#include "base/result.hpp"

namespace quarterturn::app {

enum class DrawingKind { level, upright, angle, ring, arrow, stroke };
[[nodiscard]] std::string_view drawing_kind_id(DrawingKind kind);
[[nodiscard]] std::string_view drawing_kind_title(DrawingKind kind);

/// Points as Spot, shares of the upright picture as filmed.
/// level, upright: one point it goes through. angle: end, corner, end. ring: centre and a point on it. arrow: tail,
/// tip. stroke: two or more.
struct Drawing {
    DrawingKind kind = DrawingKind::stroke;
    std::vector<Spot> points;
    /// angle: the joints its points are tied to, by name ("left_elbow"); empty where free.
    std::vector<std::string> joints;
    bool operator==(const Drawing&) const = default;
};

/// {"kind": "ring", "points": [[0.5, 0.4], [0.6, 0.4]]}
[[nodiscard]] std::string write_drawing(const Drawing& drawing);
/// @error bad_input: not a drawing this program knows (it is kept, but not shown)
[[nodiscard]] Result<Drawing> read_drawing(std::string_view text);

/// How many points the tool needs before the drawing is complete; 0: until the button is let go.
[[nodiscard]] std::size_t points_needed(DrawingKind kind);

/// Degrees at the corner between the two arms, 0..180, measured in a picture of this aspect (width over height).
/// Absent when an arm has no length.
[[nodiscard]] std::optional<double> angle_at(Spot end, Spot corner, Spot other, double aspect);

/// A landmark in the picture.
struct NamedSpot {
    std::string name;
    Spot spot;
};
/// The landmark within `reach` (share of the picture's height) of `spot`; the nearest where there are several.
[[nodiscard]] std::optional<NamedSpot> nearest_joint(Spot spot, const std::vector<NamedSpot>& joints, double reach,
                                                     double aspect);
/// The drawing with its tied points where the joints are now; a joint that is not seen leaves its point where it was.
[[nodiscard]] Drawing following_joints(Drawing drawing, const std::vector<NamedSpot>& joints);

}  // namespace quarterturn::app
