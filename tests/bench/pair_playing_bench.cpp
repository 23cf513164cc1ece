/// Plays two films beside each other into a sink that takes every picture at once, with the real clock and real
/// decoding; the earlier film runs a tenth slower in the middle third, as after warping. How far what is on screen is
/// from the clock, in pictures, and how many were never shown. usage: pair_playing_bench NOW BEFORE [SECONDS]
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <thread>

#include "app/clock.hpp"
#include "app/pair_player.hpp"
#include "compare/time_map.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

struct Film {
    media::FrameIndex index;
    posing::ClipFacts clip;
    std::shared_ptr<FilmSource> source;
};

Result<Film> open(const char* path) {
    auto reader = media::ExactReader::open(path);
    if (!reader) return reader.error();
    Film film;
    film.index = reader->index();
    film.clip.time_base = reader->info().time_base;
    film.clip.first_pts = film.index.pictures.front().pts;
    film.clip.duration_s = film.index.duration_s();
    film.source = std::make_shared<ReaderSource>(std::move(*reader));
    return film;
}

/// The picture on screen against the one that the schedule has due now: how many later or earlier.
struct Screen {
    const std::vector<DueRank>& due;
    const media::FrameIndex& index;
    std::size_t on = 0, changes = 0;
    std::size_t worst = 0;

    void show(const media::Picture& picture) {
        const auto found = std::lower_bound(index.pictures.begin(), index.pictures.end(), picture.pts,
                                            [](const auto& entry, std::int64_t pts) { return entry.pts < pts; });
        on = static_cast<std::size_t>(found - index.pictures.begin());
        ++changes;
    }
    void look(double clock_s) {
        if (changes == 0) return;
        const auto next = std::upper_bound(due.begin(), due.end(), clock_s,
                                           [](double at, const DueRank& entry) { return at < entry.due_s; });
        if (next == due.begin()) return;
        const std::size_t wanted = (next - 1)->rank;
        worst = std::max(worst, wanted > on ? wanted - on : on - wanted);
    }
};

void play(Film& now, Film& before, double seconds) {
    const double third = seconds / 3;
    const compare::TimeMap map({{0, 0}, {third, third}, {2 * third, 1.9 * third}, {seconds, 2.9 * third}});
    const auto a = schedule(
        now.index, now.clip, [](double s) { return s; }, 0, seconds);
    const auto b = schedule(
        before.index, before.clip, [&](double s) { return map.before_at(s); }, 0, seconds);
    PairPlayer player(now.source, before.source);
    player.play(a, b, 0, seconds, 1);
    Screen left{a, now.index}, right{b, before.index};
    std::size_t most = 0;
    for (bool ended = false; !ended; std::this_thread::sleep_for(std::chrono::milliseconds(2))) {
        auto look = player.poll();
        if (look.error) return fmt::print("{}\n", look.error->detail), void();
        if (look.now) left.show(*look.now);
        if (look.before) right.show(*look.before);
        if (look.clock_s) left.look(*look.clock_s), right.look(*look.clock_s);
        most = std::max(most, player.now_track().waiting_bytes() + player.before_track().waiting_bytes());
        ended = look.ended;
    }
    for (const auto& [name, screen] : {std::pair{"this film", &left}, {"the earlier one", &right}})
        fmt::print("{}: {} of {} pictures shown, at worst {} pictures from the clock\n", name, screen->changes,
                   screen->due.size(), screen->worst);
    fmt::print("at most {:.1f} MiB ahead\n", static_cast<double>(most) / (1 << 20));
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 3) return fmt::print("usage: pair_playing_bench NOW BEFORE [SECONDS]\n"), 2;
    auto now = open(argv[1]), before = open(argv[2]);
    if (!now || !before) return fmt::print("{}\n", (now ? before : now).error().detail), 1;
    const double both = std::min(now->index.duration_s(), before->index.duration_s());
    play(*now, *before, std::min(both, argc > 3 ? std::stod(argv[3]) : 300));
    return 0;
}
