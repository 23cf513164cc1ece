#include "app/pair_player.hpp"

#include <doctest.h>

#include <atomic>
#include <cmath>
#include <thread>

#include "made_up_film.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

posing::ClipFacts facts(double seconds) {
    posing::ClipFacts clip;
    clip.time_base = {1, 1000};
    clip.duration_s = seconds;
    return clip;
}

constexpr double picture_s = 0.033;

}  // namespace

TEST_CASE("the schedule of an unwarped film names every picture once, at its time") {
    const MadeUpFilm film(300, 33);
    const auto due = schedule(
        film.index(), facts(9.9), [](double s) { return s; }, 0, 9.79);
    REQUIRE(due.size() == 297);
    for (std::size_t i = 0; i < due.size(); ++i) {
        CHECK(due[i].rank == i);
        CHECK(std::abs(due[i].due_s - static_cast<double>(i) * picture_s) < 1.0 / 144);
    }
}

TEST_CASE("a film that stands still or goes back is scheduled so") {
    const MadeUpFilm film(300, 33);
    const auto due = schedule(
        film.index(), facts(9.9), [](double s) { return s < 1 ? 5.0 : 8.0 - s; }, 0, 2);
    CHECK(due.front().rank == 151);
    REQUIRE(due.size() > 20);
    CHECK(due[1].due_s == doctest::Approx(1).epsilon(0.01));
    CHECK(due.back().rank < due[1].rank);
}

TEST_CASE("two films of 1920x1080 at 30 a second stay within one picture of each other over five minutes") {
    constexpr int pictures = 9090;  // 300 s
    // As large as 1080p in 8 bit, so that the queues fill as they do for real.
    constexpr std::size_t bytes = 1920 * 1080 * 3 / 2;
    auto now = std::make_shared<MadeUpFilm>(pictures, 33, 0, bytes);
    auto before = std::make_shared<MadeUpFilm>(pictures, 33, 500, bytes);
    // The earlier one runs a fifth slower in the middle third.
    compare::TimeMap map({{0, 0}, {100, 100}, {200, 180}, {300, 280}});
    std::atomic<double> time{0};
    PairPlayerSettings settings;
    settings.time = [&] { return time.load(); };
    PairPlayer player(now, before, settings);
    posing::ClipFacts later = facts(pictures * picture_s), earlier = later;
    earlier.first_pts = 500;
    const auto a = schedule(
        now->index(), later, [](double s) { return s; }, 0, 299.9);
    const auto b = schedule(
        before->index(), earlier, [&](double s) { return map.before_at(s); }, 0, 299.9);
    player.play(a, b, 0, 299.9, 1);

    double now_s = -1, before_s = -1, worst = 0;
    std::size_t next_a = 0, next_b = 0, most_bytes = 0;
    int looks = 0, shown = 0;
    bool ended = false;
    while (!ended) {
        auto look = player.poll();
        if (look.now) ++shown, now_s = static_cast<double>(look.now->pts) / 1000;
        if (look.before) before_s = static_cast<double>(look.before->pts - 500) / 1000;
        if (look.clock_s && now_s >= 0 && before_s >= 0) {
            ++looks;
            worst = std::max({worst, std::abs(*look.clock_s - picture_s / 2 - now_s),
                              std::abs(map.before_at(*look.clock_s) - picture_s / 2 - before_s)});
        }
        most_bytes = std::max({most_bytes, player.now_track().waiting_bytes(), player.before_track().waiting_bytes()});
        ended = look.ended;
        if (!look.clock_s) {
            std::this_thread::yield();
            continue;
        }
        // A sink of 60 looks a second. A busy machine may hold the threads up: time waits for the next two pictures.
        time = time + 1.0 / 60;
        while (next_a < a.size() && a[next_a].due_s <= time) ++next_a;
        while (next_b < b.size() && b[next_b].due_s <= time) ++next_b;
        until([&] {
            return now->decoded >= static_cast<int>(std::min(next_a + 1, a.size())) &&
                   before->decoded >= static_cast<int>(std::min(next_b + 1, b.size()));
        });
    }
    CHECK(looks > 17000);
    CHECK(worst < 1.5 * picture_s);  // half a picture either side of its middle, and one look
    CHECK(shown > 9000);
    CHECK(most_bytes <= settings.ahead_bytes);
}

TEST_CASE("paused, both pictures that were asked for last are shown") {
    auto now = std::make_shared<MadeUpFilm>(100, 33), before = std::make_shared<MadeUpFilm>(100, 40);
    PairPlayer player(now, before);
    player.show(0, 0);
    player.show(33 * 20, 40 * 30);
    std::optional<media::Picture> a, b;
    until([&] {
        auto look = player.poll();
        if (look.now) a = std::move(look.now);
        if (look.before) b = std::move(look.before);
        return a && b && a->pts == 660 && b->pts == 1200;
    });
    CHECK(a->pts == 660);
    CHECK(b->pts == 1200);
}

TEST_CASE("a late decoder leaves pictures out and catches up") {
    auto now = std::make_shared<MadeUpFilm>(300, 33), before = std::make_shared<MadeUpFilm>(300, 33);
    std::atomic<double> time{0};
    PairPlayerSettings settings;
    settings.time = [&] { return time.load(); };
    settings.ahead_bytes = 5000;
    PairPlayer player(now, before, settings);
    const auto due = schedule(
        now->index(), facts(9.9), [](double s) { return s; }, 0, 9.8);
    player.play(due, due, 0, 9.8, 1);
    until([&] { return player.poll().now.has_value(); });
    time = 6;
    std::optional<media::Picture> shown;
    until([&] {
        auto look = player.poll();
        if (look.now) shown = std::move(look.now);
        return shown && shown->pts >= 5900;
    });
    CHECK(shown->pts <= 6000);
}
