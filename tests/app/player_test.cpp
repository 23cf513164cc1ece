#include "app/player.hpp"

#include <doctest.h>

#include <atomic>
#include <thread>

#include "made_up_film.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

struct Show {
    std::atomic<double> time{0};
    std::shared_ptr<MadeUpFilm> film;
    std::unique_ptr<Player> player;
    explicit Show(std::shared_ptr<MadeUpFilm> made, std::size_t ahead = 1U << 20U) : film(std::move(made)) {
        PlayerSettings settings;
        settings.ahead_bytes = ahead;
        settings.time = [this] { return time.load(); };
        player = std::make_unique<Player>(film, nullptr, settings);
    }
    std::int64_t shown() {
        std::optional<media::Picture> picture;
        until([&] { return (picture = player->poll().picture).has_value(); });
        return picture->pts;
    }
};

}  // namespace

TEST_CASE("the picture asked for last is shown, wherever the film starts") {
    Show show(std::make_shared<MadeUpFilm>(100, 33, 500));
    show.player->show(500);
    CHECK(show.shown() == 500);
    show.player->show(500 + 40 * 33);
    CHECK(show.shown() == 500 + 40 * 33);
}

TEST_CASE("thirty pictures a second play without a dropped one when the window looks often enough") {
    Show show(std::make_shared<MadeUpFilm>(300, 33));
    show.player->play(0, 1, std::nullopt);
    std::vector<std::int64_t> seen{show.shown()};
    bool ended = false;
    while (!ended) {
        show.time = show.time + 1.0 / 60;
        // The thread may be slow on a busy machine: the time stands still until it is two pictures ahead or done.
        const double now = show.time;
        until([&] { return show.film->decoded >= 300 || show.film->decoded * 0.033 > now + 0.066; });
        auto look = show.player->poll();
        if (look.picture) seen.push_back(look.picture->pts);
        ended = look.ended;
    }
    CHECK(seen.size() == 300);
    CHECK(std::is_sorted(seen.begin(), seen.end()));
}

TEST_CASE("pictures whose time has passed are dropped, and the film keeps up with its clock") {
    Show show(std::make_shared<MadeUpFilm>(300, 33));
    show.player->play(0, 1, std::nullopt);
    CHECK(show.shown() == 0);
    until([&] { return show.film->decoded >= 40; });
    show.time = 1.0;
    std::optional<media::Picture> picture;
    until([&] { return (picture = show.player->poll().picture).has_value() && picture->pts >= 30 * 33; });
    CHECK(picture->pts == 30 * 33);
    CHECK(show.player->counts().dropped >= 1);
}

TEST_CASE("double speed shows the picture of twice the time") {
    Show show(std::make_shared<MadeUpFilm>(300, 33));
    show.player->play(0, 2, std::nullopt);
    CHECK(show.shown() == 0);
    until([&] { return show.film->decoded >= 40; });
    show.time = 0.5;
    CHECK(show.shown() == 30 * 33);
}

TEST_CASE("a repeated stretch starts over at its end without a gap") {
    Show show(std::make_shared<MadeUpFilm>(300, 100));
    show.player->play(1000, 1, journal::PtsRange{1000, 1500});
    CHECK(show.shown() == 1000);
    until([&] { return show.film->decoded >= 12; });
    show.time = 0.45;
    CHECK(show.shown() == 1400);
    show.time = 0.55;
    CHECK(show.shown() == 1000);
    show.time = 0.65;
    CHECK(show.shown() == 1100);
}

TEST_CASE("decoding ahead stays within its budget") {
    Show show(std::make_shared<MadeUpFilm>(300, 33, 0, 1000), 5000);
    show.player->play(0, 1, std::nullopt);
    CHECK(show.shown() == 0);
    until([&] { return show.player->waiting_bytes() >= 5000; });
    CHECK(show.player->waiting_bytes() <= 5000);
    // One more is decoded and waits outside the queue.
    CHECK(show.film->decoded <= 7);
}

TEST_CASE("a missing picture is said in words") {
    Show show(std::make_shared<MadeUpFilm>(10, 33));
    show.player->show(7);
    std::optional<Error> error;
    until([&] { return (error = show.player->poll().error).has_value(); });
    CHECK(error->code == ErrorCode::not_found);
}
