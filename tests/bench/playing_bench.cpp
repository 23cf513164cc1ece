/// Plays films into a sink that takes every picture at once: pictures dropped, decode-ahead memory, time from opening
/// to the first picture, and scrubbing against the bare cost of reaching the same pictures. With the real clock. usage:
/// playing_bench FILM...
#include <fmt/format.h>

#include <chrono>
#include <thread>

#include "app/clock.hpp"
#include "app/player.hpp"

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
    double scrub = 0, cost = 0;
    constexpr int places = 20;
    for (int i = 0; i < places; ++i) {
        const auto& entry = index.pictures[(static_cast<std::size_t>(i) * 7919U) % index.pictures.size()];
        double from = steady_seconds();
        player.show(entry.pts);
        if (!next_picture(player)) return Error{ErrorCode::io, "A picture did not come."};
        scrub += steady_seconds() - from;
        from = steady_seconds();
        if (!bare->frame_at(entry.pts)) return Error{ErrorCode::io, "A picture cannot be read."};
        cost += steady_seconds() - from;
    }

    player.play(index.pictures.front().pts, 1, std::nullopt);
    std::size_t most = 0;
    std::int64_t shown = 0;
    const double limit = steady_seconds() + index.duration_s() + 10;
    for (bool ended = false; !ended && steady_seconds() < limit; pause_for(0.002)) {
        most = std::max(most, player.waiting_bytes());
        auto now = player.poll();
        shown += now.picture ? 1 : 0;
        ended = now.ended;
    }
    fmt::print(
        "{}: {} of {} pictures shown; first picture {:.0f} ms after opening; scrubbing {:.1f} ms, bare {:.1f} ms; at "
        "most {:.1f} MiB ahead\n",
        film, shown, index.pictures.size(), first * 1000, scrub / places * 1000, cost / places * 1000,
        static_cast<double>(most) / (1 << 20));
    return ok();
}

}  // namespace

int main(int argc, char** argv) {
    for (int i = 1; i < argc; ++i)
        if (const Status done = play(argv[i]); !done) return fmt::print("{}\n", done.error().detail), 1;
    return 0;
}
