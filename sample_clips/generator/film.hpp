#pragma once
/// From a script to a film or a still on disk.
#include <filesystem>

#include "media/image.hpp"
#include "script.hpp"

namespace quarterturn::sample {

/// Draws the whole film with two threads and writes it; the same script gives the same bytes on every run.
/// @error as media::FilmWriter
[[nodiscard]] Status render(const Script& script, const std::filesystem::path& film);

/// Only the first `pictures` pictures, for tests.
[[nodiscard]] Status render(const Script& script, const std::filesystem::path& film, std::size_t pictures);

/// The picture at `seconds` as it is before encoding, upright.
[[nodiscard]] media::Image still(const Script& script, double seconds);

/// Mono samples of the whole film at `rate_hz`: a beep when each pose is called, two for a pause.
[[nodiscard]] std::vector<float> call_outs(const Script& script, int rate_hz);

}  // namespace quarterturn::sample
