#pragma once
/// A picture laid into the frame of another by an affine map, with its light matched on request; clear outside.
#include <array>

namespace quarterturn::app::window {

class AlignedPicture {
  public:
    /// Needs a current OpenGL 3.3 context from making to destroying.
    AlignedPicture();
    ~AlignedPicture();
    AlignedPicture(const AlignedPicture&) = delete;
    AlignedPicture& operator=(const AlignedPicture&) = delete;

    struct How {
        int width = 0, height = 0;  ///< of the result
        /// From places of the result (0..1, from the top left) to places of the picture: x' = a x + b y + c, ...
        std::array<double, 6> to_picture{1, 0, 0, 0, 1, 0};
        std::array<double, 3> gains{1, 1, 1};  ///< of red, green and blue in linear light
        bool operator==(const How&) const = default;
    };
    /// @param picture  texture @param fresh  its contents have changed
    /// @return the texture's name; 0 where the shaders could not be built
    unsigned int draw(unsigned int picture, bool fresh, const How& how);

  private:
    unsigned int program_ = 0, vertices_ = 0, frame_ = 0, target_ = 0, from_ = 0;
    How drawn_;
};

}  // namespace quarterturn::app::window
