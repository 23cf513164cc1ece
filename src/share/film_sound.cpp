#include "share/film_sound.hpp"

namespace quarterturn::share {

std::optional<FilmSound> FilmSound::open(const std::filesystem::path& film, const media::ClipInfo& info,
                                         const posing::ClipFacts& clip, double from_s) {
    if (info.audio.empty() || clip.time_scale != 1) return std::nullopt;
    auto reader = media::SoundReader::open(film);
    if (!reader) return std::nullopt;
    const double own_s = seconds_for_display({clip.first_pts, clip.time_base}) + from_s;
    if (!reader->start(own_s, 1)) return std::nullopt;
    return FilmSound{std::move(*reader)};
}

Status FilmSound::give(double until_s, media::FilmWriter& writer) {
    const auto wanted = static_cast<std::int64_t>(until_s * media::sound_rate_hz);
    if (wanted <= given_) return ok();
    std::vector<float> both, mono;
    if (Status read = reader_.read(static_cast<std::size_t>(wanted - given_), both); !read) return read;
    for (std::size_t i = 0; i + 1 < both.size(); i += 2) mono.push_back((both[i] + both[i + 1]) / 2);
    mono.resize(static_cast<std::size_t>(wanted - given_));
    given_ = wanted;
    return writer.add_sound(mono);
}

}  // namespace quarterturn::share
