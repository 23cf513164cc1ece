#include "share/title_strip.hpp"

#include <algorithm>
#include <cmath>

#include "share/lettering.hpp"

namespace quarterturn::share {

int even_size(double size) {
    return std::max(2, 2 * static_cast<int>(std::lround(size / 2)));
}

TitleStrip title_strip(const std::string& left, const std::string& right, int panel_width, int panel_height) {
    const auto letters = Lettering::find();
    if (!letters) return {};
    const int width = 2 * panel_width;
    TitleStrip strip;
    const int size = std::max(12, panel_height / 40);
    strip.height = even_size(size * 1.8);
    strip.luma.assign(static_cast<std::size_t>(width) * static_cast<std::size_t>(strip.height), 16);
    const auto ink = [&](int x, int y, std::uint8_t coverage) {
        if (x < 0 || y < 0 || x >= width || y >= strip.height) return;
        auto& sample =
            strip.luma[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
        sample = static_cast<std::uint8_t>(std::max<int>(sample, 16 + coverage * 200 / 255));
    };
    const int baseline = strip.height - size / 2;
    const int column = panel_width - 2 * size;
    letters->draw(letters->cut(left, size, column), size, size, baseline, ink);
    letters->draw(letters->cut(right, size, column), size, panel_width + size, baseline, ink);
    return strip;
}

}  // namespace quarterturn::share
