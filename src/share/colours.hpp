#pragma once
/// Colours of what leaves the machine, for paper-like and dark screens, and the contrast formula that keeps them
/// legible. Categories use the Okabe-Ito set, which people with any kind of colour vision can tell apart, and always
/// come with a shape or a word.
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace quarterturn::share {

struct Rgb {
    std::uint8_t red = 0, green = 0, blue = 0;
    bool operator==(const Rgb&) const = default;
};

[[nodiscard]] std::string css_colour(Rgb colour);  ///< "#0072b2"

/// Relative luminance, 0 black .. 1 white (WCAG 2.1).
[[nodiscard]] double luminance(Rgb colour);
/// Contrast ratio, 1 .. 21 (WCAG 2.1): text needs 4.5, marks that carry meaning need 3.
[[nodiscard]] double contrast(Rgb a, Rgb b);

/// Series are told apart by the shape of their marks as well.
enum class Shape { circle, square, triangle, diamond };

struct Theme {
    Rgb page;    ///< behind everything
    Rgb panel;   ///< behind a section, a table and every chart
    Rgb sunken;  ///< behind small blocks inside a panel
    Rgb ink;     ///< text
    Rgb quiet;   ///< secondary text
    Rgb rule;    ///< hairlines that only divide
    Rgb mark;    ///< outlines and axis lines that carry meaning
    Rgb accent;  ///< headings, links
    Rgb good;    ///< reached, kept to
    Rgb warn;    ///< short of it
    Rgb series[4];
};

[[nodiscard]] const Theme& light_theme();
[[nodiscard]] const Theme& dark_theme();

/// Style-sheet text: the custom properties (--page, --ink, --series-0 ...) of both themes, the dark one for readers
/// whose system asks for it; paper gets the light one.
[[nodiscard]] std::string theme_style();

}  // namespace quarterturn::share
