#pragma once
/// Cuts turned squares out of a picture, upright and as RGB, straight from the decoder's planes: converting whole
/// pictures first would cost more than decoding them.
#include <array>
#include <opencv2/core.hpp>
#include <span>
#include <vector>

#include "body/line_sampler.hpp"
#include "body/region.hpp"
#include "media/image.hpp"
#include "media/picture.hpp"
#include "media/probe.hpp"

namespace quarterturn::body {

enum class Border {
    repeat,  ///< the nearest edge pixel
    black
};

/// Looks at a picture without owning it: the picture or image must outlive the view.
class PictureView {
  public:
    PictureView(const media::Picture& picture, const media::ClipInfo& info);
    /// @param image upright, 1 or 3 channels
    explicit PictureView(const media::Image& image);

    /// Upright size in square pixels, as ClipInfo's shown size.
    [[nodiscard]] double width() const { return shown_width_; }
    [[nodiscard]] double height() const { return shown_height_; }

    /// Fills `rgb` (pixels x pixels x 3, rows top to bottom) with the region's content, bilinear without smoothing, as
    /// the landmark networks were trained: black is `low`, white is `high`. HLG and PQ come out as on a standard
    /// screen.
    /// @param pixels even, at least 8
    void crop(const Region& region, int pixels, Border border, float low, float high, std::span<float> rgb) const;

    /// The upper left `part` of crop(region, pixels) in grey, 8 bit, the edge repeated outside.
    /// @param pixels even
    [[nodiscard]] cv::Mat grey(const Region& region, int pixels, cv::Size part) const;

    /// The whole picture's brightness as it is stored (no tone mapping), upright, 8 bit, reduced by a power of two
    /// until neither side is longer than `longest`; each pixel is a mean.
    [[nodiscard]] cv::Mat reduced_grey(int longest) const;

  private:
    struct Samples : Grid {
        double scale_x = 1;  ///< stored luma samples -> this plane's samples
        double scale_y = 1;
        double site_x = 0;  ///< where the first sample's centre lies, in this plane's samples
        double site_y = 0;
    };
    /// index = origin + i * right + j * down, in a plane's samples.
    struct Walk {
        Point origin;
        Point right;
        Point down;
    };

    [[nodiscard]] Point stored(Point shown) const;
    [[nodiscard]] Walk walk_over(const Samples& plane, const Region& region, int pixels) const;
    using Rows = std::array<std::vector<float>, 3>;  ///< of the three planes
    void sample_row(std::size_t plane, const Walk& walk, int row, std::span<float> out) const;
    void crop_planes(const Region& region, int pixels, cv::Size part, float low, float high,
                     std::span<float> rgb) const;
    void scale_rgb(const Rows& rows, float low, float high, std::span<float> rgb) const;
    void convert_yuv(const Rows& rows, float low, float high, std::span<float> rgb) const;
    void to_standard_range(float low, float high, std::span<float> rgb) const;
    void blacken_outside(const Region& region, int pixels, float low, std::span<float> rgb) const;

    std::array<Samples, 3> planes_;
    bool yuv_ = false;
    bool deep_ = false;  ///< 16-bit samples
    media::Transfer transfer_ = media::Transfer::standard;
    std::array<float, 3> offset_{};            ///< of Y, Cb, Cr
    std::array<float, 5> weight_{1.0F / 255};  ///< Y; Cr->R, Cb->G, Cr->G, Cb->B; results in 0..1
    double shown_width_ = 0;
    double shown_height_ = 0;
    double stored_width_ = 0;
    double stored_height_ = 0;
    int rotation_deg_ = 0;
    bool flipped_ = false;
};

}  // namespace quarterturn::body
