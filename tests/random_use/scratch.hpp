#pragma once
/// What a random hand may play with: a demo library over short copies of the sample films, and things to drop on the
/// window, good and broken.
#include <filesystem>
#include <random>
#include <vector>

#include "base/result.hpp"

namespace quarterturn::test {

struct Scratch {
    std::filesystem::path library;
    std::filesystem::path samples;               ///< the short films, with their season.json
    std::vector<std::filesystem::path> to_drop;  ///< films, halves of films, noise, texts, folders, nothing at all
};

/// @param folder  new and empty @param film_s  how much of each film is kept, seconds
/// @error whatever the sample films, the ffmpeg program or the store say
[[nodiscard]] Result<Scratch> make_scratch(const std::filesystem::path& folder, double film_s, std::mt19937& random);

}  // namespace quarterturn::test
