#pragma once
/// Whether a clip's pictures come at even distances. Private to this room.
#include <cstdint>
#include <filesystem>
#include <span>

#include "media/source.hpp"

namespace quarterturn::media {

/// Whether the distances between timestamps in presentation order differ by more than rounding to the time base (two
/// ticks) and more than 2 % of the usual distance. Fewer than four timestamps: false.
[[nodiscard]] bool distances_vary(std::span<const std::int64_t> sorted_pts);

/// From the container's index where it has a complete one, else from the first few hundred packets, for which the file
/// is opened a second time (the source itself is not moved).
[[nodiscard]] bool has_variable_rate(const Source& source, const std::filesystem::path& path);

}  // namespace quarterturn::media
