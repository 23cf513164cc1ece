#pragma once
/// How a clip was filmed, as a person set it: what the picture, the times and the measures rest on.
#include <optional>
#include <string>

#include "app/picture_view.hpp"
#include "journal/clip.hpp"

namespace quarterturn::app {

struct ReviewState;

/// The fields of journal::Clip that change what is shown or measured.
struct Filmed {
    std::optional<int> rotation_deg;  ///< absent: as the file says
    std::optional<double> tilt_deg;   ///< turned clockwise by so much; absent: the upright is estimated while measuring
    double time_scale = 1;            ///< true seconds per stored second
    bool mirrored = false;
    std::optional<journal::AthleteShown> athlete_at;  ///< absent: the program chooses whom to follow
    std::string session;                              ///< its season gives rule set and height
    bool operator==(const Filmed&) const = default;
};
[[nodiscard]] Filmed filmed_of(const journal::Clip& clip);

constexpr double tilt_step_deg = 0.5;
constexpr double largest_tilt_deg = 45;
constexpr double least_time_scale = 0.01, largest_time_scale = 100;

/// What the keys go through: as the file says, then each quarter turn.
[[nodiscard]] std::optional<int> next_rotation(std::optional<int> rotation_deg);
/// As played, half, quarter and eighth of it, then as played again.
[[nodiscard]] double next_time_scale(double time_scale);

/// "Estimated", "Level", "2.5° clockwise"
[[nodiscard]] std::string tilt_text(std::optional<double> tilt_deg);
/// "As the file says", "A quarter to the left"...
[[nodiscard]] std::string rotation_text(std::optional<int> rotation_deg);
/// "As played", "4 times slower", "2 times faster"
[[nodiscard]] std::string time_scale_text(double time_scale);

/// Brings the open clip to what the library says now: turned, tilted, mirrored, slowed; what was measured otherwise
/// goes, and what the cache has for it is asked for. Nothing where nothing changed.
void refresh_filmed(ReviewState& state);

}  // namespace quarterturn::app
