#pragma once
/// The small pictures on the cards, as textures.
#include <imgui.h>

#include <map>

#include "media/image.hpp"

namespace quarterturn::app::window {

/// Needs a current OpenGL context.
class Stills {
  public:
    Stills() = default;
    ~Stills() { clear(); }
    Stills(const Stills&) = delete;
    Stills& operator=(const Stills&) = delete;

    /// @param image  RGB
    void put(std::int64_t pts, const media::Image& image);
    /// nullptr when it is not there.
    [[nodiscard]] ImTextureID find(std::int64_t pts, ImVec2& size) const;
    void clear();

  private:
    struct Entry {
        unsigned int texture = 0;
        ImVec2 size{};
    };
    std::map<std::int64_t, Entry> entries_;
};

}  // namespace quarterturn::app::window
