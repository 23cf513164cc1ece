#include "film.hpp"

#include <algorithm>
#include <future>
#include <limits>

#include "drawing.hpp"
#include "media/film_writer.hpp"

namespace quarterturn::sample {
namespace {

constexpr int sound_rate_hz = 22050;

/// Lays an upright picture on its side the way the stored film wants it (see media::ClipInfo::rotation_deg).
media::Image stored(Drawn drawn, int rotation_deg) {
    const bool sideways = rotation_deg == 90 || rotation_deg == -90;
    media::Image out;
    out.width = sideways ? drawn.height : drawn.width;
    out.height = sideways ? drawn.width : drawn.height;
    if (rotation_deg == 0) {
        out.samples = std::move(drawn.rgb);
        return out;
    }
    out.samples.resize(drawn.rgb.size());
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) {
            // shown turned clockwise (-90): the stored left edge becomes the top
            int from_x = drawn.width - 1 - x, from_y = drawn.height - 1 - y;
            if (rotation_deg == -90) from_x = drawn.width - 1 - y, from_y = x;
            if (rotation_deg == 90) from_x = y, from_y = drawn.height - 1 - x;
            const auto from = (static_cast<std::size_t>(from_y) * static_cast<std::size_t>(drawn.width) +
                               static_cast<std::size_t>(from_x)) *
                              3;
            const auto to =
                (static_cast<std::size_t>(y) * static_cast<std::size_t>(out.width) + static_cast<std::size_t>(x)) * 3;
            std::copy_n(&drawn.rgb[from], 3, &out.samples[to]);
        }
    return out;
}

media::FilmSettings settings_of(const Script& script) {
    const FilmSetup& film = script.film;
    const bool sideways = film.rotation_deg == 90 || film.rotation_deg == -90;
    media::FilmSettings settings;
    settings.width = sideways ? film.height : film.width;
    settings.height = sideways ? film.width : film.height;
    settings.quality = film.quality;
    settings.rotation_deg = film.rotation_deg;
    settings.audio_rate_hz = film.sound ? sound_rate_hz : 0;
    settings.recorded_at = film.recorded_at;
    settings.deterministic = true;
    return settings;
}

}  // namespace

std::vector<float> call_outs(const Script& script, int rate_hz) {
    const Timeline timeline(script);
    std::vector<float> out(static_cast<std::size_t>(timeline.duration_s() * rate_hz), 0.0F);
    const auto beep = [&](double at_s, double hz) {
        constexpr double long_s = 0.16;
        const auto from = static_cast<std::size_t>(std::max(0.0, at_s) * rate_hz);
        for (std::size_t i = 0; i < static_cast<std::size_t>(long_s * rate_hz) && from + i < out.size(); ++i) {
            const double t = static_cast<double>(i) / rate_hz;
            const double soft = smooth_step(0, 0.02, t) * (1 - smooth_step(long_s - 0.05, long_s, t));
            out[from + i] += static_cast<float>(0.25 * soft * std::sin(2 * std::numbers::pi * hz * t));
        }
    };
    for (const StepTimes& times : timeline.times()) {
        const Step& step = script.steps[times.step];
        if (step.kind == StepKind::pose) beep(times.start_s - 0.25, 880);
        if (step.kind != StepKind::stand && step.kind != StepKind::fix_hair) continue;
        beep(times.start_s - 0.25, 660);
        beep(times.start_s - 0.02, 660);
    }
    return out;
}

media::Image still(const Script& script, double seconds) {
    Drawn drawn = Drawing(script).picture_at(seconds, 0);
    return {drawn.width, drawn.height, 3, std::move(drawn.rgb)};
}

Status render(const Script& script, const std::filesystem::path& film) {
    return render(script, film, std::numeric_limits<std::size_t>::max());
}

Status render(const Script& script, const std::filesystem::path& film, std::size_t pictures) {
    Result<media::FilmWriter> writer = media::FilmWriter::create(film, settings_of(script));
    if (!writer) return writer.error();
    Drawing even(script), odd(script);
    const std::size_t count = std::min(pictures, even.times().size());
    const auto add = [&](Drawn drawn, std::size_t rank) {
        return writer->add(stored(std::move(drawn), script.film.rotation_deg), even.times()[rank]);
    };
    for (std::size_t rank = 0; rank < count; rank += 2) {
        std::future<Drawn> second;
        if (rank + 1 < count) second = std::async(std::launch::async, [&] { return odd.picture(rank + 1); });
        if (Status status = add(even.picture(rank), rank); !status) return status;
        if (!second.valid()) continue;
        if (Status status = add(second.get(), rank + 1); !status) return status;
    }
    if (script.film.sound)
        if (Status status = writer->add_sound(call_outs(script, sound_rate_hz)); !status) return status;
    return writer->finish();
}

}  // namespace quarterturn::sample
