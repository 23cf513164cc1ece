#include "media/shown_colour.hpp"

#include <algorithm>

namespace quarterturn::media {
namespace {

struct Weights {
    double red, blue;
};

Weights weights_of(Matrix matrix) {
    switch (matrix) {
        case Matrix::bt601:
            return {0.299, 0.114};
        case Matrix::bt709:
            return {0.2126, 0.0722};
        case Matrix::bt2020:
            return {0.2627, 0.0593};
    }
    return {0.2126, 0.0722};
}

}  // namespace

YuvMatrix yuv_matrix(const Colour& colour, int bits) {
    const auto [kr, kb] = weights_of(colour.matrix);
    const double kg = 1 - kr - kb;
    const double largest = bits == 10 ? 1023 : 255;
    const double unit = bits == 10 ? 4 : 1;
    const bool limited = colour.range == Range::limited;
    const double y_scale = limited ? largest / (219 * unit) : 1;
    const double c_scale = limited ? largest / (224 * unit) : 1;
    const double y_zero = limited ? 16 * unit / largest : 0;
    const double c_zero = 128 * unit / largest;
    const double cr_r = 2 * (1 - kr) * c_scale;
    const double cb_b = 2 * (1 - kb) * c_scale;
    const double cb_g = -2 * (1 - kb) * kb / kg * c_scale;
    const double cr_g = -2 * (1 - kr) * kr / kg * c_scale;
    YuvMatrix matrix;
    matrix.rows = {{{y_scale, 0, cr_r}, {y_scale, cb_g, cr_g}, {y_scale, cb_b, 0}}};
    matrix.offset = {-y_scale * y_zero - cr_r * c_zero, -y_scale * y_zero - (cb_g + cr_g) * c_zero,
                     -y_scale * y_zero - cb_b * c_zero};
    return matrix;
}

Triple shown_colour(double y, double cb, double cr, const Colour& colour, int bits) {
    const YuvMatrix m = yuv_matrix(colour, bits);
    Triple rgb{};
    for (std::size_t i = 0; i < 3; ++i)
        rgb[i] = std::clamp(m.rows[i][0] * y + m.rows[i][1] * cb + m.rows[i][2] * cr + m.offset[i], 0.0, 1.0);
    return to_standard(rgb, colour.transfer);
}

}  // namespace quarterturn::media
