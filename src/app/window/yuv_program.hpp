#pragma once
/// Turns a decoded picture into an upright RGB texture on the graphics card: matrix and range, HLG and PQ to a standard
/// screen, rotation and mirroring of the file. The arithmetic is that of media/tone.hpp and media/shown_colour.hpp;
/// tests compare the pictures with those of media/image.hpp.
#include <array>
#include <cstdint>

#include "media/picture.hpp"
#include "media/probe.hpp"

namespace quarterturn::app::window {

/// Needs a current OpenGL 3.3 context from making to destroying.
class YuvProgram {
  public:
    YuvProgram();
    ~YuvProgram();
    YuvProgram(const YuvProgram&) = delete;
    YuvProgram& operator=(const YuvProgram&) = delete;

    /// Whether the shaders could be built; otherwise pictures stay dark.
    [[nodiscard]] bool ready() const { return program_ != 0; }

    /// Uploads the planes; the picture itself is not needed afterwards.
    void upload(const media::Picture& picture, int rotation_deg, bool flipped);

    /// Draws what was uploaded into the texture, at most `max_height` rows high; does nothing when nothing changed.
    /// @return the texture's name, 0 before the first upload
    unsigned int draw(int max_height);

    [[nodiscard]] int width() const { return width_; }  ///< of the texture
    [[nodiscard]] int height() const { return height_; }

  private:
    void make_target(int width, int height);

    unsigned int program_ = 0, vertices_ = 0, frame_ = 0, target_ = 0;
    std::array<unsigned int, 3> planes_{};
    media::Picture shape_;  ///< size and colours of what was uploaded; no samples
    int rotation_deg_ = 0;
    bool flipped_ = false, changed_ = false, uploaded_ = false;
    int width_ = 0, height_ = 0;
};

}  // namespace quarterturn::app::window
