#pragma once
/// The sound of a film for a new film that begins somewhere in it.
#include <cstdint>
#include <filesystem>
#include <optional>

#include "media/film_writer.hpp"
#include "media/probe.hpp"
#include "media/sound.hpp"
#include "posing/analysis.hpp"

namespace quarterturn::share {

class FilmSound {
  public:
    /// @param from_s  where the new film begins, true seconds from the first picture
    /// @return absent: there is no sound, or none that fits (slow motion)
    static std::optional<FilmSound> open(const std::filesystem::path& film, const media::ClipInfo& info,
                                         const posing::ClipFacts& clip, double from_s);

    /// Everything up to `until_s` of the new film that was not given yet, mono; silence where the sound has ended.
    Status give(double until_s, media::FilmWriter& writer);

  private:
    explicit FilmSound(media::SoundReader reader) : reader_(std::move(reader)) {}
    media::SoundReader reader_;
    std::int64_t given_ = 0;
};

}  // namespace quarterturn::share
