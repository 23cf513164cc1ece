#pragma once
/// Where in the picture the athlete poses, told by where the movement is, and how tall she is there.
#include <optional>
#include <vector>

#include "body/motion_record.hpp"

namespace quarterturn::body {

/// Cells, [left, right) x [top, bottom).
struct CellBox {
    int left = 0, top = 0, right = 0, bottom = 0;
    [[nodiscard]] int width() const { return right - left; }
    [[nodiscard]] int height() const { return bottom - top; }
};

struct AthletePlace {
    CellBox box;
    double height_px = 0;            ///< of the body, in pixels of the reduced picture
    std::vector<std::uint8_t> mask;  ///< by cell: 1 where she moves about when posing
};

/// The connected part of the picture that moves most often over the clip, however little each time: she poses in one
/// place and only passes through others. Absent when nothing as large as a person moves.
[[nodiscard]] std::optional<AthletePlace> find_athlete_place(const SpeedRecord& record);

/// What moves around one step.
struct MovementAt {
    double speed_px = 0;             ///< of the fastest part within the athlete's place, pixels per second
    std::optional<double> in_place;  ///< share of the movement that is in her place; absent when nothing moves
};
[[nodiscard]] MovementAt movement_at(const SpeedRecord& record, std::size_t step, const AthletePlace& place);

}  // namespace quarterturn::body
