#pragma once
/// A picture's samples as one string, planes packed without padding: for comparing pixels.
#include <string>

#include "media/picture.hpp"

namespace quarterturn::test {

inline std::string samples_of(const media::Picture& picture) {
    std::string samples;
    for (const media::Plane& plane : picture.planes)
        for (int y = 0; y < plane.height; ++y)
            samples.append(reinterpret_cast<const char*>(plane.data) + std::ptrdiff_t{y} * plane.stride_bytes,
                           static_cast<std::size_t>(plane.width) * (picture.bits > 8 ? 2U : 1U));
    return samples;
}

}  // namespace quarterturn::test
