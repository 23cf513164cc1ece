#pragma once
/// Pictures and small films of our own drawn figure, for tests of the networks.
#include <filesystem>
#include <string_view>

#include "media/image.hpp"
#include "truth.hpp"

namespace quarterturn::body {

/// A script of sample_clips/scripts.
[[nodiscard]] sample::Script sample_script(std::string_view name);

/// A film of one still that drifts a little to and fro and once to the side, 240 x 426, `pictures` at 10 per second,
/// with a key frame in every second.
void write_drifting_film(const std::filesystem::path& path, const media::Image& still, int pictures);

}  // namespace quarterturn::body
