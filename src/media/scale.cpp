#include "media/scale.hpp"

#include <tuple>

namespace quarterturn::media {
namespace {

AVPixelFormat format_for(int bits, int shift_x, int shift_y) {
    const auto pick = [bits](AVPixelFormat eight, AVPixelFormat ten) { return bits == 8 ? eight : ten; };
    if (shift_x == 1 && shift_y == 1) return pick(AV_PIX_FMT_YUV420P, AV_PIX_FMT_YUV420P10);
    if (shift_x == 1 && shift_y == 0) return pick(AV_PIX_FMT_YUV422P, AV_PIX_FMT_YUV422P10);
    if (shift_x == 0 && shift_y == 0) return pick(AV_PIX_FMT_YUV444P, AV_PIX_FMT_YUV444P10);
    if (shift_x == 0 && shift_y == 1) return pick(AV_PIX_FMT_YUV440P, AV_PIX_FMT_YUV440P10);
    if (shift_x == 2 && shift_y == 0 && bits == 8) return AV_PIX_FMT_YUV411P;
    if (shift_x == 2 && shift_y == 2 && bits == 8) return AV_PIX_FMT_YUV410P;
    return AV_PIX_FMT_NONE;
}

int coefficients_for(Matrix matrix) {
    switch (matrix) {
        case Matrix::bt601:
            return SWS_CS_ITU601;
        case Matrix::bt2020:
            return SWS_CS_BT2020;
        case Matrix::bt709:
            break;
    }
    return SWS_CS_ITU709;
}

int flags_for(const Samples& from, const Target& to, Quality quality) {
    const bool shrinks = to.width < from.width || to.height < from.height;
    if (quality == Quality::fast) return shrinks ? SWS_AREA : SWS_BILINEAR;
    return (shrinks ? SWS_AREA : SWS_BICUBIC) | SWS_ACCURATE_RND | SWS_FULL_CHR_H_INT | SWS_FULL_CHR_H_INP;
}

ScalerPtr new_scaler(const Samples& from, const Target& to, const Colour& colour, int flags) {
    ScalerPtr scaler{sws_getContext(from.width, from.height, from.format, to.width, to.height, to.format, flags,
                                    nullptr, nullptr, nullptr)};
    if (!scaler) return nullptr;
    const int* coefficients = sws_getCoefficients(coefficients_for(colour.matrix));
    const int full = colour.range == Range::full ? 1 : 0;
    constexpr int one = 1 << 16;
    // Fails for grey, which has neither matrix nor range here; nothing to set then.
    (void)sws_setColorspaceDetails(scaler.get(), coefficients, full, coefficients, full, 0, one, one);
    return scaler;
}

}  // namespace

Samples samples_of(const Picture& picture) {
    Samples samples{format_for(picture.bits, picture.chroma_shift_x, picture.chroma_shift_y),
                    picture.width,
                    picture.height,
                    {},
                    {}};
    for (std::size_t i = 0; i < picture.planes.size(); ++i) {
        samples.data[i] = picture.planes[i].data;
        samples.strides[i] = picture.planes[i].stride_bytes;
    }
    return samples;
}

Samples luma_of(const Picture& picture) {
    return {picture.bits == 8 ? AV_PIX_FMT_GRAY8 : AV_PIX_FMT_GRAY10,
            picture.width,
            picture.height,
            {picture.planes[0].data, nullptr, nullptr, nullptr},
            {picture.planes[0].stride_bytes, 0, 0, 0}};
}

Samples samples_of(const Image& image) {
    return {image.channels == 1 ? AV_PIX_FMT_GRAY8 : AV_PIX_FMT_RGB24,
            image.width,
            image.height,
            {image.samples.data(), nullptr, nullptr, nullptr},
            {image.width * image.channels, 0, 0, 0}};
}

Target target_in(AVFrame& frame) {
    return {static_cast<AVPixelFormat>(frame.format),
            frame.width,
            frame.height,
            {frame.data[0], frame.data[1], frame.data[2], nullptr},
            {frame.linesize[0], frame.linesize[1], frame.linesize[2], 0}};
}

bool scale(const Samples& from, const Target& to, const Colour& colour, Quality quality) {
    using Key = std::tuple<AVPixelFormat, int, int, AVPixelFormat, int, int, Matrix, Range, int>;
    thread_local Key kept_key{};
    thread_local ScalerPtr kept;
    if (from.format == AV_PIX_FMT_NONE || to.width <= 0 || to.height <= 0) return false;
    const int flags = flags_for(from, to, quality);
    const Key key{from.format, from.width,    from.height,  to.format, to.width,
                  to.height,   colour.matrix, colour.range, flags};
    if (!kept || key != kept_key) {
        prepare_libav();
        kept = new_scaler(from, to, colour, flags);
        kept_key = key;
    }
    if (!kept) return false;
    return sws_scale(kept.get(), from.data.data(), from.strides.data(), 0, from.height, to.data.data(),
                     to.strides.data()) == to.height;
}

}  // namespace quarterturn::media
