#include "app/palette.hpp"

#include <doctest.h>

using namespace quarterturn::app;

// WCAG 2.1, https://www.w3.org/TR/WCAG21/ (1.4.3 text 4.5:1, 1.4.11 marks 3:1); values recomputed from its formula.
TEST_CASE("contrast follows the published formula") {
    CHECK(contrast({0, 0, 0}, {255, 255, 255}) == doctest::Approx(21));
    CHECK(contrast({0x76, 0x76, 0x76}, {255, 255, 255}) == doctest::Approx(4.5422).epsilon(1e-4));
    CHECK(contrast({0x77, 0x77, 0x77}, {255, 255, 255}) == doctest::Approx(4.4781).epsilon(1e-4));
    CHECK(contrast({255, 255, 255}, {0x95, 0x95, 0x95}) == doctest::Approx(2.9953).epsilon(1e-4));
    CHECK(relative_luminance({0x77, 0x77, 0x77}) == doctest::Approx(0.184475).epsilon(1e-5));
}

TEST_CASE("every text can be read on every ground it stands on, in both themes") {
    for (const Theme theme : {Theme::light, Theme::dark}) {
        const Palette& c = palette(theme);
        for (const Rgb ground : {c.paper, c.card, c.card_pressed}) {
            CHECK(contrast(c.ink, ground) >= 4.5);
            CHECK(contrast(c.soft_ink, ground) >= 4.5);
            CHECK(contrast(c.accent, ground) >= 4.5);
            CHECK(contrast(c.trouble, ground) >= 4.5);
        }
        CHECK(contrast(c.on_accent, c.accent) >= 4.5);
        CHECK(contrast(c.on_felt, c.felt) >= 4.5);
        CHECK(contrast(c.soft_on_felt, c.felt) >= 4.5);
    }
}

TEST_CASE("outlines of what can be pressed and every category stand out") {
    for (const Theme theme : {Theme::light, Theme::dark}) {
        const Palette& c = palette(theme);
        CHECK(contrast(c.edge, c.paper) >= 3);
        CHECK(contrast(c.edge, c.card) >= 3);
        for (const Category category : all_categories) CHECK(contrast(look_of(category).colour, c.felt) >= 3);
    }
}

// The palette is that of R's palette.colors("Okabe-Ito").
TEST_CASE("no two categories that stand side by side share colour or pattern") {
    for (const auto& group : {std::array{Category::hold, Category::transition, Category::walk, Category::pause}})
        for (const Category a : group)
            for (const Category b : group)
                if (a != b) {
                    CHECK_FALSE(look_of(a).colour == look_of(b).colour);
                    CHECK(look_of(a).pattern != look_of(b).pattern);
                    CHECK(look_of(a).word != look_of(b).word);
                }
    CHECK(look_of(Category::note_to_do).pattern != look_of(Category::note_done).pattern);
    CHECK(look_of(Category::sway).pattern != look_of(Category::twist).pattern);
}
