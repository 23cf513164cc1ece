#include "media/picture_from.hpp"

extern "C" {
#include <libavutil/imgutils.h>
#include <libavutil/pixdesc.h>
}

#include <algorithm>

namespace quarterturn::media {
namespace {

int shifted_up(int size, int shift) {
    return (size + (1 << shift) - 1) >> shift;
}

/// Whether the planes can be handed on as they are: Y, Cb, Cr in planes of their own, native words.
bool is_planar_yuv(const AVPixFmtDescriptor& format) {
    if ((format.flags & (AV_PIX_FMT_FLAG_RGB | AV_PIX_FMT_FLAG_PAL | AV_PIX_FMT_FLAG_HWACCEL | AV_PIX_FMT_FLAG_BE |
                         AV_PIX_FMT_FLAG_BITSTREAM)) != 0 ||
        (format.flags & AV_PIX_FMT_FLAG_PLANAR) == 0 || format.nb_components < 3)
        return false;
    for (int i = 0; i < 3; ++i) {
        const AVComponentDescriptor& part = format.comp[i];
        if (part.plane != i || part.shift != 0 || (part.depth != 8 && part.depth != 10)) return false;
    }
    return true;
}

Matrix matrix_from(AVColorSpace space, int width, int height) {
    switch (space) {
        case AVCOL_SPC_BT709:
            return Matrix::bt709;
        case AVCOL_SPC_BT470BG:
        case AVCOL_SPC_SMPTE170M:
        case AVCOL_SPC_SMPTE240M:
        case AVCOL_SPC_FCC:
            return Matrix::bt601;
        case AVCOL_SPC_BT2020_NCL:
        case AVCOL_SPC_BT2020_CL:
            return Matrix::bt2020;
        default:
            return std::max(width, height) >= 1280 || std::min(width, height) > 576 ? Matrix::bt709 : Matrix::bt601;
    }
}

bool is_full_range_format(AVPixelFormat format) {
    return format == AV_PIX_FMT_YUVJ420P || format == AV_PIX_FMT_YUVJ422P || format == AV_PIX_FMT_YUVJ444P ||
           format == AV_PIX_FMT_YUVJ440P || format == AV_PIX_FMT_YUVJ411P;
}

/// The planar format closest to one that cannot be handed on.
AVPixelFormat planar_for(const AVPixFmtDescriptor& format) {
    const bool rich = (format.flags & (AV_PIX_FMT_FLAG_RGB | AV_PIX_FMT_FLAG_PAL)) != 0 ||
                      (format.nb_components >= 3 && format.log2_chroma_w == 0);
    if (format.comp[0].depth > 8) return rich ? AV_PIX_FMT_YUV444P10LE : AV_PIX_FMT_YUV420P10LE;
    return rich ? AV_PIX_FMT_YUV444P : AV_PIX_FMT_YUV420P;
}

FramePtr converted(const AVFrame& frame, const AVPixFmtDescriptor& layout) {
    FramePtr result = new_frame();
    result->format = planar_for(layout);
    result->width = frame.width;
    result->height = frame.height;
    if (av_frame_get_buffer(result.get(), 0) < 0) return nullptr;
    const ScalerPtr scaler{sws_getContext(frame.width, frame.height, static_cast<AVPixelFormat>(frame.format),
                                          result->width, result->height, static_cast<AVPixelFormat>(result->format),
                                          SWS_BILINEAR | SWS_ACCURATE_RND | SWS_FULL_CHR_H_INP, nullptr, nullptr,
                                          nullptr)};
    if (!scaler ||
        sws_scale(scaler.get(), frame.data, frame.linesize, 0, frame.height, result->data, result->linesize) <= 0)
        return nullptr;
    av_frame_copy_props(result.get(), &frame);
    result->color_range = AVCOL_RANGE_MPEG;
    // swscale's default for a source that is not YUV.
    if ((layout.flags & AV_PIX_FMT_FLAG_RGB) != 0 || layout.nb_components < 3) result->colorspace = AVCOL_SPC_SMPTE170M;
    return result;
}

void describe_planes(const AVFrame& frame, const AVPixFmtDescriptor& layout, Picture& picture) {
    picture.chroma_shift_x = layout.log2_chroma_w;
    picture.chroma_shift_y = layout.log2_chroma_h;
    for (std::size_t i = 0; i < picture.planes.size(); ++i) {
        const int shift_x = i == 0 ? 0 : layout.log2_chroma_w;
        const int shift_y = i == 0 ? 0 : layout.log2_chroma_h;
        picture.planes[i] = {frame.data[i], frame.linesize[i], shifted_up(frame.width, shift_x),
                             shifted_up(frame.height, shift_y)};
    }
}

}  // namespace

Colour colour_from(AVColorSpace space, AVColorRange range, AVColorTransferCharacteristic transfer, AVPixelFormat format,
                   int width, int height) {
    Colour colour;
    // A full-range pixel format is what still-picture codecs use, and those mean BT.601 (JFIF, ITU-T T.871).
    colour.matrix = is_full_range_format(format) && space == AVCOL_SPC_UNSPECIFIED ? Matrix::bt601
                                                                                   : matrix_from(space, width, height);
    colour.range = range == AVCOL_RANGE_JPEG || is_full_range_format(format) ? Range::full : Range::limited;
    if (transfer == AVCOL_TRC_ARIB_STD_B67) colour.transfer = Transfer::hlg;
    if (transfer == AVCOL_TRC_SMPTE2084) colour.transfer = Transfer::pq;
    return colour;
}

int bits_for(AVPixelFormat format) {
    const AVPixFmtDescriptor* layout = av_pix_fmt_desc_get(format);
    return layout != nullptr && layout->comp[0].depth > 8 ? 10 : 8;
}

std::optional<Picture> picture_from(AVFrame& frame, std::int64_t pts) {
    const AVPixFmtDescriptor* layout = av_pix_fmt_desc_get(static_cast<AVPixelFormat>(frame.format));
    if (layout == nullptr || frame.data[0] == nullptr || frame.width <= 0 || frame.height <= 0) return std::nullopt;
    FramePtr owned;
    if (is_planar_yuv(*layout)) {
        owned = new_frame();
        av_frame_move_ref(owned.get(), &frame);
    } else {
        owned = converted(frame, *layout);
        av_frame_unref(&frame);
        if (!owned) return std::nullopt;
        layout = av_pix_fmt_desc_get(static_cast<AVPixelFormat>(owned->format));
    }
    Picture picture;
    picture.pts = pts;
    picture.width = owned->width;
    picture.height = owned->height;
    picture.bits = layout->comp[0].depth;
    picture.colour = colour_from(owned->colorspace, owned->color_range, owned->color_trc,
                                 static_cast<AVPixelFormat>(owned->format), owned->width, owned->height);
    picture.damaged = (owned->flags & AV_FRAME_FLAG_CORRUPT) != 0 || owned->decode_error_flags != 0;
    describe_planes(*owned, *layout, picture);
    picture.storage = std::shared_ptr<const AVFrame>{owned.release(), FreeWith<av_frame_free>{}};
    return picture;
}

}  // namespace quarterturn::media
