/// Colours against WCAG 2.1 (https://www.w3.org/TR/WCAG21/, relative luminance and contrast ratio; worked pairs
/// computed from its formulas) and the Okabe-Ito set (palette.colors of R 4).
#include <doctest.h>

#include "share/colours.hpp"

using namespace quarterturn::share;

namespace {

constexpr Rgb white{255, 255, 255}, black{0, 0, 0};
constexpr Rgb grey(std::uint8_t level) {
    return {level, level, level};
}

void check_theme(const Theme& theme) {
    for (const Rgb ground : {theme.page, theme.panel, theme.sunken}) {
        CAPTURE(css_colour(ground));
        for (const Rgb text : {theme.ink, theme.quiet, theme.accent, theme.good, theme.warn}) {
            CAPTURE(css_colour(text));
            CHECK(contrast(text, ground) >= 4.5);
        }
        CHECK(contrast(theme.mark, ground) >= 3.0);
    }
    for (const Rgb series : theme.series) {
        CAPTURE(css_colour(series));
        CHECK(contrast(series, theme.panel) >= 3.0);
    }
    for (const Rgb bar : {theme.series[0], theme.series[2]}) {
        CAPTURE(css_colour(bar));
        CHECK(contrast(bar, theme.sunken) >= 3.0);
    }
}

}  // namespace

TEST_CASE("WCAG 2.1 contrast: published pairs on white") {
    CHECK(contrast(black, white) == doctest::Approx(21));
    CHECK(contrast(grey(0x76), white) == doctest::Approx(4.5422).epsilon(1e-4));
    CHECK(contrast(grey(0x77), white) == doctest::Approx(4.4781).epsilon(1e-4));
    CHECK(contrast(grey(0x59), white) == doctest::Approx(7.0047).epsilon(1e-4));
    CHECK(contrast(grey(0x94), white) == doctest::Approx(3.0335).epsilon(1e-4));
    CHECK(contrast({255, 0, 0}, white) == doctest::Approx(3.9985).epsilon(1e-4));
    CHECK(contrast({0, 0, 255}, white) == doctest::Approx(8.5925).epsilon(1e-4));
    CHECK(contrast(grey(0x80), black) == doctest::Approx(5.3172).epsilon(1e-4));
    CHECK(luminance(grey(0x77)) == doctest::Approx(0.184475).epsilon(1e-5));
}

TEST_CASE("WCAG 2.1: text keeps 4.5 to 1 and marks keep 3 to 1 in both themes") {
    SUBCASE("light") {
        check_theme(light_theme());
    }
    SUBCASE("dark") {
        check_theme(dark_theme());
    }
}

TEST_CASE("categories are colours of the Okabe-Ito set") {
    const Rgb set[] = {{0xE6, 0x9F, 0x00}, {0x56, 0xB4, 0xE9}, {0x00, 0x9E, 0x73}, {0xF0, 0xE4, 0x42},
                       {0x00, 0x72, 0xB2}, {0xD5, 0x5E, 0x00}, {0xCC, 0x79, 0xA7}};
    for (const Theme* theme : {&light_theme(), &dark_theme()}) {
        for (const Rgb series : theme->series) {
            bool found = false;
            for (const Rgb member : set) found = found || member == series;
            CAPTURE(css_colour(series));
            CHECK(found);
        }
    }
}
