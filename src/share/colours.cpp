#include "share/colours.hpp"

#include <fmt/format.h>

#include <cmath>

namespace quarterturn::share {
namespace {

constexpr Rgb blue{0x00, 0x72, 0xB2}, vermilion{0xD5, 0x5E, 0x00}, green{0x00, 0x9E, 0x73}, purple{0xCC, 0x79, 0xA7};
constexpr Rgb sky{0x56, 0xB4, 0xE9}, orange{0xE6, 0x9F, 0x00};

// Okabe-Ito orange and sky blue are too faint on white (2.3 : 1), blue is too dark on a dark ground, so each theme has
// its own four of the set.
constexpr Theme light{.page = {0xF3, 0xF1, 0xEC},
                      .panel = {0xFF, 0xFF, 0xFF},
                      .sunken = {0xF7, 0xF6, 0xF2},
                      .ink = {0x1E, 0x22, 0x28},
                      .quiet = {0x5A, 0x5F, 0x66},
                      .rule = {0xDD, 0xD9, 0xD0},
                      .mark = {0x7C, 0x80, 0x85},
                      .accent = {0x0B, 0x4F, 0x6C},
                      .good = {0x00, 0x70, 0x52},
                      .warn = {0xA8, 0x43, 0x00},
                      .series = {blue, vermilion, green, purple}};
constexpr Theme dark{.page = {0x12, 0x15, 0x19},
                     .panel = {0x1B, 0x1F, 0x24},
                     .sunken = {0x23, 0x28, 0x2E},
                     .ink = {0xEC, 0xE9, 0xE2},
                     .quiet = {0xA9, 0xAF, 0xB6},
                     .rule = {0x38, 0x3E, 0x45},
                     .mark = {0x84, 0x8B, 0x93},
                     .accent = {0x9F, 0xD3, 0xEC},
                     .good = {0x4F, 0xC7, 0xA1},
                     .warn = {0xF0, 0xA3, 0x5E},
                     .series = {sky, orange, green, purple}};

double linear(std::uint8_t channel) {
    const double c = channel / 255.0;
    return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

std::string properties(const Theme& theme) {
    std::string out = fmt::format(
        "--page:{};--panel:{};--sunken:{};--ink:{};--quiet:{};--rule:{};--mark:{};--accent:{};--good:{};--warn:{};",
        css_colour(theme.page), css_colour(theme.panel), css_colour(theme.sunken), css_colour(theme.ink),
        css_colour(theme.quiet), css_colour(theme.rule), css_colour(theme.mark), css_colour(theme.accent),
        css_colour(theme.good), css_colour(theme.warn));
    for (std::size_t i = 0; i < std::size(theme.series); ++i)
        out += fmt::format("--series-{}:{};", i, css_colour(theme.series[i]));
    return out;
}

}  // namespace

std::string css_colour(Rgb colour) {
    return fmt::format("#{:02x}{:02x}{:02x}", colour.red, colour.green, colour.blue);
}

double luminance(Rgb colour) {
    return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
}

double contrast(Rgb a, Rgb b) {
    const double first = luminance(a) + 0.05, second = luminance(b) + 0.05;
    return first > second ? first / second : second / first;
}

const Theme& light_theme() {
    return light;
}

const Theme& dark_theme() {
    return dark;
}

std::string theme_style() {
    return fmt::format(
        ":root{{color-scheme:light dark;{}}}\n@media screen and (prefers-color-scheme:dark){{:root{{{}}}}}\n",
        properties(light), properties(dark));
}

}  // namespace quarterturn::share
