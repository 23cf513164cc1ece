#pragma once
/// The titles of both sides in a strip for below two panels of a film.
#include <cstdint>
#include <string>
#include <vector>

namespace quarterturn::share {

struct TitleStrip {
    int height = 0;                  ///< even; 0 where no font was found
    std::vector<std::uint8_t> luma;  ///< limited range, rows of `2 * panel_width`
};

/// @param panel_width, panel_height  pixels, even; each title is cut to its panel
[[nodiscard]] TitleStrip title_strip(const std::string& left, const std::string& right, int panel_width,
                                     int panel_height);

/// The nearest even size, at least 2: planes with halved colour need it.
[[nodiscard]] int even_size(double size);

}  // namespace quarterturn::share
