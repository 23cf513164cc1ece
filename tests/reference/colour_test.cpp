#include <doctest.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <memory>
#include <vector>

#include "media/image.hpp"
#include "media/shown_colour.hpp"

using namespace quarterturn;
using namespace quarterturn::media;

namespace {

/// A picture of one colour, 4:2:0.
Picture plain(std::array<int, 3> ycc, int bits, Colour colour) {
    constexpr int width = 32;
    constexpr int height = 16;
    auto samples = std::make_shared<std::vector<std::uint8_t>>();
    const int bytes = bits > 8 ? 2 : 1;
    samples->reserve(static_cast<std::size_t>(width * height * bytes * 2));
    Picture picture;
    std::array<std::size_t, 3> starts{};
    for (std::size_t plane = 0; plane < 3; ++plane) {
        const int count = plane == 0 ? width * height : width * height / 4;
        starts[plane] = samples->size();
        for (int i = 0; i < count; ++i)
            for (int byte = 0; byte < bytes; ++byte)
                samples->push_back(static_cast<std::uint8_t>(ycc[plane] >> (8 * byte)));
    }
    for (std::size_t plane = 0; plane < 3; ++plane) {
        const int part = plane == 0 ? 1 : 2;
        picture.planes[plane] = {samples->data() + starts[plane], width / part * bytes, width / part, height / part};
    }
    picture.width = width;
    picture.height = height;
    picture.bits = bits;
    picture.colour = colour;
    picture.storage = samples;
    return picture;
}

std::array<int, 3> shown(const Picture& picture) {
    ClipInfo info;
    info.width = picture.width;
    info.height = picture.height;
    const Image image = to_rgb(picture, info).value();
    const std::size_t middle = (static_cast<std::size_t>(image.width) * 8 + 16) * 3;
    return {image.samples[middle], image.samples[middle + 1], image.samples[middle + 2]};
}

int grey(const Picture& picture) {
    ClipInfo info;
    info.width = picture.width;
    info.height = picture.height;
    return to_grey(picture, info).value().samples[100];
}

bool near(std::array<int, 3> a, std::array<int, 3> b, int tolerance) {
    for (std::size_t i = 0; i < 3; ++i)
        if (std::abs(a[i] - b[i]) > tolerance) return false;
    return true;
}

void check(std::array<int, 3> ycc, Matrix matrix, std::array<int, 3> rgb) {
    CAPTURE(ycc[0]);
    CAPTURE(ycc[1]);
    const std::array<int, 3> got = shown(plain(ycc, 8, {matrix, Range::limited, Transfer::standard}));
    CHECK_MESSAGE(near(got, rgb, 2), got[0], " ", got[1], " ", got[2]);
    // Ten bits: the same signal four times as fine (ITU-R BT.709 item 4.6, BT.2100 table 9).
    const std::array<int, 3> deep =
        shown(plain({ycc[0] * 4, ycc[1] * 4, ycc[2] * 4}, 10, {matrix, Range::limited, Transfer::standard}));
    CHECK_MESSAGE(near(deep, rgb, 2), deep[0], " ", deep[1], " ", deep[2]);
    // The plain arithmetic the window's shader is compared with.
    const Triple exact = shown_colour(ycc[0] / 255.0, ycc[1] / 255.0, ycc[2] / 255.0, {matrix}, 8);
    for (std::size_t i = 0; i < 3; ++i) CHECK(std::abs(exact[i] * 255 - rgb[i]) <= 2);
}

}  // namespace

// ITU-R BT.601 (Kr 0.299, Kb 0.114), BT.709 (0.2126, 0.0722) and BT.2020 (0.2627, 0.0593), limited range: values
// computed from the definitions; +/-2 for rounding in fixed-point converters.
TEST_CASE("limited-range YCbCr becomes the RGB of its matrix") {
    for (const Matrix matrix : {Matrix::bt601, Matrix::bt709, Matrix::bt2020}) {
        check({16, 128, 128}, matrix, {0, 0, 0});
        check({235, 128, 128}, matrix, {255, 255, 255});
        check({126, 128, 128}, matrix, {128, 128, 128});
        check({180, 128, 128}, matrix, {191, 191, 191});
    }
    check({81, 90, 240}, Matrix::bt601, {254, 0, 0});
    check({81, 90, 240}, Matrix::bt709, {255, 24, 0});
    check({100, 110, 150}, Matrix::bt601, {133, 87, 61});
    check({100, 110, 150}, Matrix::bt709, {137, 90, 60});
    check({63, 102, 240}, Matrix::bt601, {233, 0, 2});
    check({63, 102, 240}, Matrix::bt709, {255, 1, 0});
}

// Colour bars' primaries as the two recommendations code them.
TEST_CASE("primaries come out pure") {
    check({145, 54, 34}, Matrix::bt601, {0, 255, 0});
    check({41, 240, 110}, Matrix::bt601, {0, 0, 255});
    check({173, 42, 26}, Matrix::bt709, {0, 255, 0});
    check({32, 240, 118}, Matrix::bt709, {0, 0, 255});
}

TEST_CASE("full-range YCbCr is not stretched") {
    CHECK(near(shown(plain({128, 128, 128}, 8, {Matrix::bt601, Range::full, Transfer::standard})), {128, 128, 128}, 1));
    // ITU-T T.871 (JFIF), 8: R = Y + 1.402 (Cr - 128), G = Y - 0.344136 (Cb - 128) - 0.714136 (Cr - 128), B = Y + 1.772
    // (Cb - 128)
    CHECK(near(shown(plain({100, 110, 150}, 8, {Matrix::bt601, Range::full, Transfer::standard})), {131, 90, 68}, 2));
}

TEST_CASE("grey is the stretched luma") {
    for (const auto& [luma, expected] : {std::pair{16, 0}, {235, 255}, {126, 128}, {180, 191}, {5, 0}, {250, 255}}) {
        CHECK(std::abs(grey(plain({luma, 90, 240}, 8, {})) - expected) <= 1);
        CHECK(std::abs(grey(plain({luma * 4, 90 * 4, 240 * 4}, 10, {})) - expected) <= 1);
    }
    CHECK(grey(plain({77, 128, 128}, 8, {Matrix::bt601, Range::full, Transfer::standard})) == 77);
}

// ITU-R BT.2408: HDR reference white (203 cd/m2) is 75 % of the HLG signal and 58 % of the PQ signal. Both must look
// alike: clearly white, below the clipping of highlights; grey and colour conversion must agree on neutral pictures.
TEST_CASE("HLG and PQ show the same scene alike, white as white and highlights above it") {
    const auto limited10 = [](double signal) { return static_cast<int>(64 + signal * 876 + 0.5); };
    const auto look = [&](double signal, Transfer transfer) {
        return plain({limited10(signal), 512, 512}, 10, {Matrix::bt2020, Range::limited, transfer});
    };
    const std::array<int, 3> hlg_white = shown(look(0.75, Transfer::hlg));
    const std::array<int, 3> pq_white = shown(look(0.5807, Transfer::pq));
    CHECK(near(hlg_white, pq_white, 4));
    CHECK(hlg_white[0] > 210);
    CHECK(hlg_white[0] < 250);
    for (const Transfer transfer : {Transfer::hlg, Transfer::pq}) {
        CHECK(near(shown(look(0, transfer)), {0, 0, 0}, 1));
        CHECK(near(shown(look(1, transfer)), {255, 255, 255}, 2));
        int last = -1;
        for (double signal = 0; signal <= 1.0; signal += 0.05) {
            const std::array<int, 3> rgb = shown(look(signal, transfer));
            CHECK(rgb[0] >= last);
            CHECK(std::abs(rgb[0] - rgb[2]) <= 2);
            CHECK(std::abs(grey(look(signal, transfer)) - rgb[0]) <= 4);
            last = rgb[0];
        }
    }
    // SMPTE ST 2084: 100 cd/m2, the white of a standard screen, is 50.8 % of the signal: light 100/203, sRGB 185
    // (+/-3).
    CHECK(std::abs(shown(look(0.508, Transfer::pq))[0] - 185) <= 3);
}
