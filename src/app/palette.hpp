#pragma once
/// Colours by what they are for, in a light and a dark theme. Categories use the palette of Okabe and Ito ("Color
/// Universal Design", 2008), always with a shape or a word beside the colour, and always on the dark `felt`, where all
/// of them stand out. The contrasts that must hold are tested by the formula of WCAG 2.1 (tests/app/palette_test.cpp).
#include <array>
#include <cstdint>
#include <string_view>

namespace quarterturn::app {

/// sRGB, 0-255.
struct Rgb {
    std::uint8_t r = 0, g = 0, b = 0;
    bool operator==(const Rgb&) const = default;
};

/// The eight colours of Okabe and Ito.
namespace okabe_ito {
inline constexpr Rgb black{0x00, 0x00, 0x00};
inline constexpr Rgb orange{0xE6, 0x9F, 0x00};
inline constexpr Rgb sky_blue{0x56, 0xB4, 0xE9};
inline constexpr Rgb green{0x00, 0x9E, 0x73};
inline constexpr Rgb yellow{0xF0, 0xE4, 0x42};
inline constexpr Rgb blue{0x00, 0x72, 0xB2};
inline constexpr Rgb vermillion{0xD5, 0x5E, 0x00};
inline constexpr Rgb purple{0xCC, 0x79, 0xA7};
}  // namespace okabe_ito

enum class Theme { light, dark };

struct Palette {
    Rgb paper;         ///< behind everything
    Rgb card;          ///< what things stand on
    Rgb card_pressed;  ///< a card or button under the pointer
    Rgb ink;           ///< text
    Rgb soft_ink;      ///< text of second rank
    Rgb hairline;      ///< decoration only: carries no meaning
    Rgb edge;          ///< outline of what can be pressed
    Rgb accent;        ///< the chosen thing, also as text on paper and card
    Rgb on_accent;     ///< text on accent
    Rgb trouble;       ///< errors, as text on paper and card
    Rgb felt;          ///< the dark ground under pictures, curves and blocks, in both themes
    Rgb on_felt;       ///< text on felt
    Rgb soft_on_felt;  ///< text of second rank on felt
};

[[nodiscard]] const Palette& palette(Theme theme);

/// What blocks on the ribbon and dots can be; all are drawn on felt.
enum class Category { hold, transition, walk, pause, note_to_do, note_done, sway, twist };
inline constexpr std::array all_categories{Category::hold,       Category::transition, Category::walk, Category::pause,
                                           Category::note_to_do, Category::note_done,  Category::sway, Category::twist};

/// How a category looks without colour.
enum class Pattern { solid, slanted, dotted, hollow, triangle, ring, unbroken_line, dashed_line };

struct CategoryLook {
    Rgb colour;
    Pattern pattern;
    std::string_view word;
};
[[nodiscard]] CategoryLook look_of(Category category);

/// WCAG 2.1, "relative luminance": 0 (black) .. 1 (white).
[[nodiscard]] double relative_luminance(Rgb colour);
/// WCAG 2.1, "contrast ratio": 1 .. 21, the order does not matter.
[[nodiscard]] double contrast(Rgb a, Rgb b);

}  // namespace quarterturn::app
