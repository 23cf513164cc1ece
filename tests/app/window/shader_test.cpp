// The pictures of the window's shaders, drawn by the graphics driver, against those of the processor: the scaler of
// `media` (media/image.hpp) and the plain arithmetic (media/shown_colour.hpp), which tests/reference/colour_test.cpp
// holds to ITU-R BT.601, BT.709, BT.2020, BT.2100, BT.2408 and SMPTE ST 2084.
#include <doctest.h>

#include <algorithm>
#include <cmath>

#include "app/window/aligned_picture.hpp"
#include "app/window/yuv_program.hpp"
#include "media/image.hpp"
#include "media/shown_colour.hpp"
#include "patches.hpp"
#include "screen.hpp"

using namespace quarterturn;
using namespace quarterturn::app::window;
using media::Matrix;
using media::Range;
using media::Transfer;
using test::Layout;
using test::patch;
using test::patches;

namespace {

// In 8-bit steps. One against the plain arithmetic: the texture keeps 8 bits (half a step) and the shader counts in
// 32-bit floats, with powers and logarithms as exact as the driver makes them. Two against the scaler, which rounds
// in whole numbers at every stage itself and looks HLG and PQ up in tables.
constexpr int exact_steps = 1;
constexpr int scaler_steps = 2;

std::string name_of(const Layout& layout) {
    constexpr std::array matrices{"BT.601", "BT.709", "BT.2020"};
    constexpr std::array transfers{"standard", "HLG", "PQ"};
    return std::string(matrices[static_cast<std::size_t>(layout.colour.matrix)]) +
           (layout.colour.range == Range::full ? ", full, " : ", limited, ") + std::to_string(layout.bits) + " bit, " +
           transfers[static_cast<std::size_t>(layout.colour.transfer)] +
           (layout.chroma_shift == 0 ? ", 4:4:4" : ", 4:2:0");
}

// Every matrix, range and depth; high dynamic range is BT.2020 by its standard.
std::vector<Layout> layouts() {
    std::vector<Layout> all;
    for (const int shift : {0, 1})
        for (const int bits : {8, 10})
            for (const Range range : {Range::limited, Range::full}) {
                for (const Matrix matrix : {Matrix::bt601, Matrix::bt709, Matrix::bt2020})
                    all.push_back({bits, shift, {matrix, range, Transfer::standard}, false, 7});
                for (const Transfer transfer : {Transfer::hlg, Transfer::pq})
                    all.push_back({bits, shift, {Matrix::bt2020, range, transfer}, false, 7});
            }
    return all;
}

media::ClipInfo info_of(const media::Picture& picture, int rotation_deg = 0, bool flipped = false) {
    media::ClipInfo info;
    info.width = picture.width;
    info.height = picture.height;
    info.rotation_deg = rotation_deg;
    info.flipped = flipped;
    return info;
}

// Patches are `side_x` by `side_y` pixels. Next to their edges filters mix neighbours, each in its own way.
int worst_inside(const media::Image& a, const media::Image& b, double side_x, double side_y, double edge) {
    REQUIRE(a.width == b.width);
    REQUIRE(a.height == b.height);
    int worst = 0, seen = 0;
    const auto inside = [&](int at, double side) {
        const double in = std::fmod(at + 0.5, side);
        return in > edge && in < side - edge;
    };
    for (int y = 0; y < a.height; ++y)
        for (int x = 0; x < a.width; ++x) {
            if (!inside(x, side_x) || !inside(y, side_y)) continue;
            ++seen;
            const auto at = static_cast<std::size_t>((y * a.width + x) * 3);
            for (std::size_t c = 0; c < 3; ++c)
                worst = std::max(worst, std::abs(a.samples[at + c] - b.samples[at + c]));
        }
    REQUIRE(seen > a.width * a.height / 16);
    return worst;
}

media::Image shaded(YuvProgram& program, const media::Picture& picture, const media::ClipInfo& info,
                    int max_height = 10000) {
    program.upload(picture, info.rotation_deg, info.flipped);
    return read_texture(program.draw(max_height));
}

unsigned sample_at(const media::Picture& picture, std::size_t plane, int x, int y) {
    const media::Plane& from = picture.planes[plane];
    const int shift = plane == 0 ? 0 : picture.chroma_shift_x;
    const std::uint8_t* row = from.data + std::ptrdiff_t{y >> shift} * from.stride_bytes;
    const int at = x >> shift;
    return picture.bits > 8 ? row[2 * at] + 256U * row[2 * at + 1] : row[at];
}

media::Image by_plain_arithmetic(const media::Picture& picture) {
    media::Image image{picture.width, picture.height, 3, {}};
    const double largest = picture.bits > 8 ? 1023 : 255;
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x) {
            const media::Triple rgb =
                media::shown_colour(sample_at(picture, 0, x, y) / largest, sample_at(picture, 1, x, y) / largest,
                                    sample_at(picture, 2, x, y) / largest, picture.colour, picture.bits);
            for (const double channel : rgb)
                image.samples.push_back(static_cast<std::uint8_t>(std::lround(channel * 255)));
        }
    return image;
}

}  // namespace

TEST_CASE("the shader shows every matrix, range, depth and transfer as the processor does") {
    const auto window = hidden_window();
    REQUIRE(window);
    YuvProgram program;
    REQUIRE(program.ready());
    for (const Layout& layout : layouts()) {
        CAPTURE(name_of(layout));
        const media::Picture picture = patches(30, 20, layout);
        const media::Image drawn = shaded(program, picture, info_of(picture));
        // Half-size chroma is filtered over two samples by the card and over four by the scaler.
        const int exact = worst_inside(drawn, by_plain_arithmetic(picture), patch, patch, layout.chroma_shift);
        const int scaled = worst_inside(drawn, media::to_rgb(picture, info_of(picture)).value(), patch, patch,
                                        4 * layout.chroma_shift);
        CHECK(exact <= exact_steps);
        CHECK(scaled <= scaler_steps);
    }
}

TEST_CASE("samples that mean a colour beyond every screen are clipped, not wrapped round") {
    const auto window = hidden_window();
    REQUIRE(window);
    YuvProgram program;
    for (Layout layout : layouts()) {
        CAPTURE(name_of(layout));
        layout.any_sample = true;
        const media::Picture picture = patches(30, 20, layout);
        CHECK(worst_inside(shaded(program, picture, info_of(picture)), by_plain_arithmetic(picture), patch, patch,
                           layout.chroma_shift) <= exact_steps);
    }
}

TEST_CASE("the shader turns and mirrors a picture as the processor does") {
    const auto window = hidden_window();
    REQUIRE(window);
    YuvProgram program;
    for (const bool flipped : {false, true})
        for (const int rotation : {0, 90, 180, -90})
            for (const Layout& layout : {Layout{8, 1}, Layout{10, 0, {Matrix::bt2020, Range::limited}}}) {
                CAPTURE(rotation);
                CAPTURE(flipped);
                const media::Picture picture = patches(11, 7, layout);
                const media::ClipInfo info = info_of(picture, rotation, flipped);
                const media::Image drawn = shaded(program, picture, info);
                CHECK(drawn.width == (std::abs(rotation) == 90 ? 112 : 176));
                CHECK(worst_inside(drawn, media::to_rgb(picture, info).value(), patch, patch, 4) <= scaler_steps);
            }
}

TEST_CASE("a picture shown smaller keeps its colours, also turned and from high dynamic range") {
    const auto window = hidden_window();
    REQUIRE(window);
    YuvProgram program;
    for (const int part : {2, 4})
        for (const Transfer transfer : {Transfer::standard, Transfer::hlg, Transfer::pq})
            for (const int rotation : {0, -90}) {
                CAPTURE(part);
                CAPTURE(rotation);
                const media::Picture picture = patches(6, 4, {10, 0, {Matrix::bt2020, Range::limited, transfer}});
                const media::ClipInfo info = info_of(picture, rotation, false);
                const int rows = (rotation == 0 ? picture.height : picture.width) / part;
                const media::Image drawn = shaded(program, picture, info, rows);
                CHECK(drawn.height == rows);
                const double side = static_cast<double>(patch) / part;
                CHECK(worst_inside(drawn, media::to_rgb(picture, info, rows).value(), side, side, 0) <= scaler_steps);
            }
}

TEST_CASE("samples that are not square are stretched to the shape the processor gives them") {
    const auto window = hidden_window();
    REQUIRE(window);
    YuvProgram program;
    AlignedPicture aligned;
    for (const auto& [num, den, rotation] : {std::tuple{2, 1, 0}, {4, 3, 0}, {1, 2, 0}, {2, 1, -90}, {2, 1, 180}}) {
        CAPTURE(num);
        CAPTURE(rotation);
        const media::Picture picture = patches(9, 6, {8, 0});
        media::ClipInfo info = info_of(picture, rotation, false);
        info.sample_aspect_num = num;
        info.sample_aspect_den = den;
        program.upload(picture, rotation, false);
        AlignedPicture::How how;
        how.width = info.shown_width();
        how.height = info.shown_height();
        const media::Image drawn = read_texture(aligned.draw(program.draw(10000), true, how));
        const bool lies = std::abs(rotation) == 90;
        CHECK(worst_inside(drawn, media::to_rgb(picture, info).value(), static_cast<double>(how.width) / (lies ? 6 : 9),
                           static_cast<double>(how.height) / (lies ? 9 : 6), 5) <= scaler_steps);
    }
}

TEST_CASE("the picture of another is moved, turned and lit as asked, and clear outside") {
    const auto window = hidden_window();
    REQUIRE(window);
    YuvProgram program;
    AlignedPicture aligned;
    const media::Picture picture = patches(8, 8, {8, 0, {Matrix::bt601, Range::full}});
    program.upload(picture, 0, false);
    const unsigned int texture = program.draw(10000);
    const media::Image plain = read_texture(texture);
    // One patch to the right and a quarter turn about the middle, both on whole pixels.
    AlignedPicture::How how;
    how.width = how.height = 8 * patch;
    how.to_picture = {0, 1, -0.125, -1, 0, 1};
    how.gains = {0.5, 1, 2};
    const unsigned int target = aligned.draw(texture, true, how);
    std::vector<std::uint8_t> drawn(128 * 128 * 4);
    glBindTexture(GL_TEXTURE_2D, target);
    glGetTexImage(GL_TEXTURE_2D, 0, GL_RGBA, GL_UNSIGNED_BYTE, drawn.data());
    // IEC 61966-2-1: signal to light.
    const auto light = [](int signal) {
        const double c = signal / 255.0;
        return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    int clear = 0, worst = 0;
    for (int y = 0; y < 128; ++y)
        for (int x = 0; x < 128; ++x) {
            const int from_x = y - patch, from_y = 127 - x;
            const auto at = static_cast<std::size_t>((y * 128 + x) * 4);
            CHECK(drawn[at + 3] == (from_x < 0 ? 0 : 255));
            if (from_x < 0 && ++clear > 0) continue;
            for (std::size_t c = 0; c < 3; ++c) {
                const int stored = plain.samples[static_cast<std::size_t>((from_y * 128 + from_x) * 3) + c];
                const double lit = media::srgb_from_light(std::min(1.0, light(stored) * how.gains[c]));
                worst = std::max(worst, std::abs(drawn[at + c] - static_cast<int>(std::lround(lit * 255))));
            }
        }
    CHECK(clear == patch * 128);
    CHECK(worst <= exact_steps);
}
