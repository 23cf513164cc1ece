#pragma once
/// The H.264 encoder behind FilmWriter and the frames it takes. Private to this room.
#include <cstdint>

#include "base/result.hpp"
#include "media/film_writer.hpp"
#include "media/libav.hpp"

namespace quarterturn::media {

/// @error bad_input: a size, time base, quality or rotation that no film can have
[[nodiscard]] Status check(const FilmSettings& settings);

/// @param settings  checked
/// @param rate      pictures a second, a hint only: it chooses the level, which decides whether a phone plays the film
/// @error unsupported: no libx264, or it refuses the settings
[[nodiscard]] Result<CodecPtr> open_film_encoder(const FilmSettings& settings, double rate);

/// A frame for the encoder. @param rgb  of the film's size
/// @error bad_input: another size; unsupported; io: no memory
[[nodiscard]] Result<FramePtr> film_frame(const FilmSettings& settings, const Image& rgb, std::int64_t pts);
/// @param picture  as films are written (film_picture.hpp)
[[nodiscard]] Result<FramePtr> film_frame(const FilmSettings& settings, const Picture& picture, std::int64_t pts);

}  // namespace quarterturn::media
