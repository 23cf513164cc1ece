#include "app/window/stills.hpp"

#include "app/window/gl.hpp"

namespace quarterturn::app::window {

void Stills::put(std::int64_t pts, const media::Image& image) {
    if (image.channels != 3 || image.width <= 0 || image.height <= 0) return;
    Entry& entry = entries_[pts];
    if (entry.texture == 0) glGenTextures(1, &entry.texture);
    entry.size = {static_cast<float>(image.width), static_cast<float>(image.height)};
    glBindTexture(GL_TEXTURE_2D, entry.texture);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, image.width, image.height, 0, GL_RGB, GL_UNSIGNED_BYTE,
                 image.samples.data());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
}

ImTextureID Stills::find(std::int64_t pts, ImVec2& size) const {
    const auto found = entries_.find(pts);
    if (found == entries_.end()) return nullptr;
    size = found->second.size;
    // The library's textures are pointers; its OpenGL side puts the texture's number into one.
    return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(found->second.texture));
}

void Stills::clear() {
    for (const auto& [pts, entry] : entries_) glDeleteTextures(1, &entry.texture);
    entries_.clear();
}

}  // namespace quarterturn::app::window
