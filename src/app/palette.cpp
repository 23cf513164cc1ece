#include "app/palette.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::app {
namespace {

constexpr Palette light{
    .paper = {0xF3, 0xEF, 0xE7},
    .card = {0xFF, 0xFF, 0xFF},
    .card_pressed = {0xE9, 0xF1, 0xF6},
    .ink = {0x1E, 0x1B, 0x17},
    .soft_ink = {0x5D, 0x56, 0x4B},
    .hairline = {0xDB, 0xD4, 0xC6},
    .edge = {0x8C, 0x83, 0x74},
    .accent = {0x00, 0x65, 0x9E},
    .on_accent = {0xFF, 0xFF, 0xFF},
    .trouble = {0xA8, 0x44, 0x00},
    .felt = {0x1F, 0x24, 0x2C},
    .on_felt = {0xF2, 0xEE, 0xE6},
    .soft_on_felt = {0xB4, 0xB9, 0xC1},
};

constexpr Palette dark{
    .paper = {0x15, 0x18, 0x1D},
    .card = {0x20, 0x25, 0x2C},
    .card_pressed = {0x2B, 0x33, 0x3D},
    .ink = {0xF0, 0xEC, 0xE4},
    .soft_ink = {0xB2, 0xB3, 0xAE},
    .hairline = {0x33, 0x3A, 0x44},
    .edge = {0x7B, 0x84, 0x90},
    .accent = okabe_ito::sky_blue,
    .on_accent = {0x10, 0x15, 0x1A},
    .trouble = {0xF2, 0x8A, 0x3C},
    .felt = {0x0C, 0x0F, 0x13},
    .on_felt = {0xF2, 0xEE, 0xE6},
    .soft_on_felt = {0xA8, 0xAE, 0xB6},
};

double linear(std::uint8_t channel) {
    const double c = channel / 255.0;
    return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

}  // namespace

const Palette& palette(Theme theme) {
    return theme == Theme::light ? light : dark;
}

CategoryLook look_of(Category category) {
    switch (category) {
        case Category::hold:
            return {okabe_ito::sky_blue, Pattern::solid, "hold"};
        case Category::transition:
            return {okabe_ito::orange, Pattern::slanted, "transition"};
        case Category::walk:
            return {okabe_ito::green, Pattern::dotted, "walk"};
        case Category::pause:
            return {{0x99, 0x99, 0x99}, Pattern::hollow, "pause"};
        case Category::note_to_do:
            return {okabe_ito::yellow, Pattern::triangle, "to do"};
        case Category::note_done:
            return {okabe_ito::purple, Pattern::ring, "done"};
        case Category::sway:
            return {okabe_ito::orange, Pattern::unbroken_line, "sway"};
        case Category::twist:
            return {okabe_ito::sky_blue, Pattern::dashed_line, "twist"};
    }
    return {okabe_ito::yellow, Pattern::solid, ""};
}

double relative_luminance(Rgb colour) {
    return 0.2126 * linear(colour.r) + 0.7152 * linear(colour.g) + 0.0722 * linear(colour.b);
}

double contrast(Rgb a, Rgb b) {
    const double la = relative_luminance(a);
    const double lb = relative_luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

}  // namespace quarterturn::app
