#pragma once
/// A window that nobody sees, for its OpenGL context; pictures read back from textures.
#include <memory>

#include "app/window/gl.hpp"
#include "app/window/window.hpp"
#include "media/image.hpp"

namespace quarterturn::app::window {

inline std::unique_ptr<Window> hidden_window(int width = 1280, int height = 800) {
    auto window = Window::open({width, height, false, "quarterturn"});
    return window ? std::move(*window) : nullptr;
}

/// Rows from the top, RGB.
inline media::Image read_texture(unsigned int texture) {
    int width = 0, height = 0;
    glBindTexture(GL_TEXTURE_2D, texture);
    glGetTexLevelParameteriv(GL_TEXTURE_2D, 0, GL_TEXTURE_WIDTH, &width);
    glGetTexLevelParameteriv(GL_TEXTURE_2D, 0, GL_TEXTURE_HEIGHT, &height);
    media::Image image{width, height, 3, {}};
    image.samples.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glGetTexImage(GL_TEXTURE_2D, 0, GL_RGB, GL_UNSIGNED_BYTE, image.samples.data());
    return image;
}

}  // namespace quarterturn::app::window
