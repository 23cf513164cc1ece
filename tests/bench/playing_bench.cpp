/// Plays films into a sink that takes every picture at once: pictures dropped, decode-ahead memory, time from opening
/// to the first picture, and scrubbing against the bare cost of reaching the same pictures. With the real clock. Then
/// the first film over and over with its sound: how far pictures are from what is heard, at the beginning and at the
/// end. Without a sound device: SDL_AUDIODRIVER=dummy. usage: playing_bench [--minutes N] FILM...
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <string_view>
#include <thread>
#include <vector>

#include "app/clock.hpp"
#include "app/player.hpp"
#include "bench_films.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

void pause_for(double seconds) {
    std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
}

std::optional<media::Picture> next_picture(Player& player) {
    for (const double start = steady_seconds(); steady_seconds() - start < 20; pause_for(0.0005))
        if (auto now = player.poll(); now.picture) return std::move(now.picture);
    return std::nullopt;
}

Status play(const char* film) {
    const double start = steady_seconds();
    auto reader = media::ExactReader::open(film);
    if (!reader) return reader.error();
    const media::FrameIndex index = reader->index();
    Player player(std::make_shared<ReaderSource>(std::move(*reader)), nullptr);
    player.show(index.pictures.front().pts);
    if (!next_picture(player)) return Error{ErrorCode::io, "No first picture."};
    const double first = steady_seconds() - start;

    auto bare = media::ExactReader::open(film, {}, index);
    if (!bare) return bare.error();
    std::vector<double> scrub, cost;
    constexpr int places = 20;
    for (int i = 0; i < places; ++i) {
        const auto& entry = index.pictures[(static_cast<std::size_t>(i) * 7919U) % index.pictures.size()];
        double from = steady_seconds();
        player.show(entry.pts);
        if (!next_picture(player)) return Error{ErrorCode::io, "A picture did not come."};
        scrub.push_back((steady_seconds() - from) * 1000);
        from = steady_seconds();
        if (!bare->frame_at(entry.pts)) return Error{ErrorCode::io, "A picture cannot be read."};
        cost.push_back((steady_seconds() - from) * 1000);
    }

    player.play(index.pictures.front().pts, 1, std::nullopt);
    std::size_t most = 0;
    std::int64_t shown = 0, dropped = 0;
    const double limit = steady_seconds() + index.duration_s() + 10;
    for (bool ended = false; !ended && steady_seconds() < limit; pause_for(0.002)) {
        most = std::max(most, player.waiting_bytes());
        auto now = player.poll();
        shown += now.picture ? 1 : 0;
        if (!now.ended) dropped = player.counts().dropped;
        ended = now.ended;
    }
    fmt::print(
        "{}: {} of {} pictures shown, {} dropped; first picture {:.0f} ms after opening; scrubbing {:.1f} ms, bare "
        "{:.1f} ms (medians); at "
        "most {:.1f} MiB ahead\n",
        film, shown, index.pictures.size(), dropped, first * 1000, bench::median(scrub), bench::median(cost),
        static_cast<double>(most) / (1 << 20));
    return ok();
}

struct Distances {
    std::vector<double> ms;
    void print(const char* when) {
        if (ms.empty()) return fmt::print("{}: no sound was heard\n", when);
        std::sort(ms.begin(), ms.end());
        const auto at = [&](double share) {
            return ms[static_cast<std::size_t>(share * static_cast<double>(ms.size() - 1))];
        };
        fmt::print("{}: sound ahead of the picture by {:.1f} ms in the median, {:.1f} to {:.1f} in 99 of 100 looks\n",
                   when, at(0.5), at(0.005), at(0.995));
    }
};

// A picture is on screen until the next is due, so the sound is ahead of it by 0 to 33 ms at 30 pictures a second.
Status play_with_sound(const char* film, double minutes) {
    auto reader = media::ExactReader::open(film);
    if (!reader) return reader.error();
    const media::FrameIndex index = reader->index();
    const journal::PtsRange all{index.pictures.front().pts, index.pictures.back().pts};
    const double length = seconds_between(all.start, all.end, index.time_base);
    SoundPlayer sound;
    sound.open(film);
    Player player(std::make_shared<ReaderSource>(std::move(*reader)), &sound);
    player.play(all.start, 1, all);
    Distances first, last;
    double shown_s = 0, base = 0, worst_drift = 0;
    const double from = steady_seconds(), to = from + minutes * 60;
    for (double now = from; now < to; now = steady_seconds()) {
        if (const auto look = player.poll(); look.picture) {
            const double in_film = seconds_between(all.start, look.picture->pts, index.time_base);
            if (base + in_film < shown_s) base += length;
            shown_s = base + in_film;
        }
        if (const auto heard = sound.heard()) {
            worst_drift = std::max(worst_drift, std::abs(player.drift()));
            if (now < from + 20) first.ms.push_back((*heard - shown_s) * 1000);
            if (now > to - 20) last.ms.push_back((*heard - shown_s) * 1000);
        }
        pause_for(0.004);
    }
    fmt::print(
        "{} with sound, {:.0f} minutes, {} pictures dropped; steady clock and sound apart by at most {:.1f} ms between "
        "two reports\n",
        film, minutes, player.counts().dropped, worst_drift * 1000);
    first.print("first 20 s");
    last.print("last 20 s");
    return ok();
}

}  // namespace

int main(int argc, char** argv) {
    double minutes = 0;
    int first = 1;
    if (argc > 2 && std::string_view(argv[1]) == "--minutes") minutes = std::atof(argv[2]), first = 3;
    for (int i = first; i < argc; ++i)
        if (const Status done = play(argv[i]); !done) return fmt::print("{}\n", done.error().detail), 1;
    if (minutes > 0 && first < argc)
        if (const Status done = play_with_sound(argv[first], minutes); !done)
            return fmt::print("{}\n", done.error().detail), 1;
    return 0;
}
