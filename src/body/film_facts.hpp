#pragma once
#include <filesystem>
#include <span>

#include "body/clip_facts.hpp"
#include "media/probe.hpp"

namespace quarterturn::body {

/// @param pts  of every picture that could be read, increasing, not empty
/// @param time_scale  true seconds per stored second
/// @return without fingerprint and warnings, which cost reading or are known elsewhere
[[nodiscard]] ClipFacts film_facts(const std::filesystem::path& path, const media::ClipInfo& info,
                                   std::span<const std::int64_t> pts, double time_scale, bool mirrored);

}  // namespace quarterturn::body
