#pragma once
/// Pictures as films are written: planar 4:2:0, 8 bit, BT.709, limited range.
#include "base/result.hpp"
#include "media/image.hpp"
#include "media/picture.hpp"

namespace quarterturn::media {

inline constexpr Colour film_colour{Matrix::bt709, Range::limited, Transfer::standard};

/// The picture itself where it is stored that way (nothing is copied), else converted at its stored size.
/// @error unsupported: a layout that cannot be converted
[[nodiscard]] Result<Picture> film_picture(const Picture& picture);

/// From an RGB image of even size. @error bad_input: another size or not RGB
[[nodiscard]] Result<Picture> film_picture(const Image& rgb);

/// Whether the picture is stored as films are written.
[[nodiscard]] bool is_film_picture(const Picture& picture);

/// A black one to draw into; `planes` point into `samples`.
struct BlankPicture {
    std::shared_ptr<std::vector<std::uint8_t>> samples;
    std::array<std::uint8_t*, 3> planes{};
    std::array<int, 3> strides{};
    int width = 0, height = 0;

    /// What was drawn, as a picture; do not draw into it afterwards.
    [[nodiscard]] Picture picture(std::int64_t pts) const;
};
/// @param width, height  even
[[nodiscard]] BlankPicture blank_picture(int width, int height);

}  // namespace quarterturn::media
