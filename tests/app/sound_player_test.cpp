#include "app/sound_player.hpp"

#include <doctest.h>

#include <atomic>
#include <cmath>
#include <cstdlib>
#include <semaphore>

#include "app/desktop.hpp"
#include "app/player.hpp"
#include "made_up_film.hpp"
#include "media/film_writer.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

constexpr double rate = 48000;

std::filesystem::path film_with_sound(const std::filesystem::path& folder, int seconds) {
    media::FilmSettings settings;
    settings.width = settings.height = 64;
    settings.audio_rate_hz = static_cast<int>(rate);
    auto writer = media::FilmWriter::create(folder / "sound.mp4", settings);
    REQUIRE(writer);
    const media::Image grey{64, 64, 3, std::vector<std::uint8_t>(64 * 64 * 3, 128)};
    for (int i = 0; i < seconds; ++i) REQUIRE(writer->add(grey, std::int64_t{i} * 90000));
    REQUIRE(writer->add_sound(std::vector<float>(static_cast<std::size_t>(rate) * static_cast<std::size_t>(seconds))));
    REQUIRE(writer->finish());
    return folder / "sound.mp4";
}

/// Speakers whose clock is the test's.
struct Speakers {
    std::atomic<std::size_t> put{0}, played{0};
    std::atomic<bool> running{false};
};
class TestOut : public SoundOut {
  public:
    explicit TestOut(std::shared_ptr<Speakers> speakers) : speakers_(std::move(speakers)) {}
    void put(std::span<const float> samples) override { speakers_->put += samples.size() / 2; }
    [[nodiscard]] std::size_t waiting() const override { return speakers_->put - speakers_->played; }
    void run(bool on) override { speakers_->running = on; }
    void clear() override { speakers_->played = speakers_->put.load(); }

  private:
    std::shared_ptr<Speakers> speakers_;
};

}  // namespace

TEST_CASE("pictures stay with the sound, however fast the sound device's clock runs") {
    const test::TemporaryFolder folder;
    const auto film = film_with_sound(folder.path(), 12);
    for (const double device : {0.99, 1.01}) {  // far worse than any crystal
        auto speakers = std::make_shared<Speakers>();
        SoundPlayer sound([&] { return std::make_unique<TestOut>(speakers); });
        sound.open(film);
        std::atomic<double> time{0};
        PlayerSettings settings;
        settings.time = [&] { return time.load(); };
        auto pictures = std::make_shared<MadeUpFilm>(1000, 33);
        Player player(pictures, &sound, settings);
        player.play(0, 1, std::nullopt);
        std::int64_t shown = -1;
        const auto look = [&] {
            if (const auto now = player.poll(); now.picture) shown = now.picture->pts;
        };
        until([&] { return look(), shown >= 0 && speakers->running; });
        double worst = 0, played = 0;
        constexpr double step = 0.05;
        while (time < 10) {
            // 0.12 s: as long as the sound is kept ahead it never has to stop.
            until([&] { return speakers->put - speakers->played > 5760; });
            time = time + step;
            played += step * device * rate;
            speakers->played = static_cast<std::size_t>(played);
            const double heard = static_cast<double>(speakers->played) / rate;
            until([&] { return std::abs(sound.heard().value_or(-1) - heard) < 1e-9; });
            until([&] {
                return static_cast<double>(pictures->decoded) * 0.033 > heard + 0.07 || pictures->decoded >= 1000;
            });
            look();
            worst = std::max(worst, std::abs(heard - static_cast<double>(shown) / 1000));
        }
        CHECK(worst < 0.04);  // a picture's own time, and half a step of leaning towards the sound
        CHECK(std::abs(player.drift()) < step);
        CHECK(player.counts().dropped < 200);  // twenty looks a second at thirty pictures
    }
}

TEST_CASE("without a sound device the film plays by the steady clock") {
    const test::TemporaryFolder folder;
    SoundPlayer sound([] { return std::unique_ptr<SoundOut>(); });
    sound.open(film_with_sound(folder.path(), 2));
    until([&] { return sound.silent(); });
    std::atomic<double> time{0};
    PlayerSettings settings;
    settings.time = [&] { return time.load(); };
    auto pictures = std::make_shared<MadeUpFilm>(30, 33);
    Player player(pictures, &sound, settings);
    player.play(0, 1, std::nullopt);
    std::int64_t last = 0;
    bool ended = false;
    until([&] {
        time = time + 0.001;
        const auto now = player.poll();
        if (now.picture) last = now.picture->pts;
        ended = now.ended;
        return ended;
    });
    CHECK(last == 29 * 33);
    CHECK_FALSE(sound.heard());
}

TEST_CASE("a sound device that does not answer holds nothing up") {
    const test::TemporaryFolder folder;
    std::binary_semaphore answer{0};
    std::atomic<bool> asked{false};
    SoundPlayer sound([&] {
        asked = true;
        answer.acquire();
        return std::unique_ptr<SoundOut>();
    });
    until([&] { return asked.load(); });
    sound.open(film_with_sound(folder.path(), 2));
    std::atomic<double> time{0};
    PlayerSettings settings;
    settings.time = [&] { return time.load(); };
    auto pictures = std::make_shared<MadeUpFilm>(30, 33);
    {
        // All of it while the device is still being opened.
        Player player(pictures, &sound, settings);
        player.play(0, 1, std::nullopt);
        until([&] { return player.poll().picture.has_value(); });
        time = 0.5;
        player.pause();
        player.play(0, 0.5, std::nullopt);
        until([&] {
            time = time + 0.001;
            return player.poll().ended;
        });
    }
    answer.release();
}

namespace {

/// ALSA without any configuration and a sound server that is not there: what a machine without sound looks like.
class NoSoundHere {
  public:
    NoSoundHere() {
        ::setenv("ALSA_CONFIG_PATH", "/dev/null", 1);
        ::setenv("PULSE_SERVER", "unix:/nonexistent/pulse", 1);
    }
    ~NoSoundHere() {
        for (const char* name : {"ALSA_CONFIG_PATH", "PULSE_SERVER", "SDL_AUDIODRIVER"}) ::unsetenv(name);
    }
    NoSoundHere(const NoSoundHere&) = delete;
    NoSoundHere& operator=(const NoSoundHere&) = delete;
};

}  // namespace

TEST_CASE("a system without a sound device gives none") {
    const NoSoundHere none;
    CHECK(open_sound_device() == nullptr);
    for (const char* driver : {"alsa", "pulseaudio", "no_such_driver"}) {
        CAPTURE(driver);
        ::setenv("SDL_AUDIODRIVER", driver, 1);
        CHECK(open_sound_device() == nullptr);
    }
}

TEST_CASE("without a sound device the program opens a film, plays it to its end and quits") {
    const test::TemporaryFolder folder;
    const NoSoundHere none;
    for (const char* name : {"HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"}) ::setenv(name, folder.path().c_str(), 1);
    AppOptions options;
    options.library = folder.path() / "no library";
    options.clip = film_with_sound(folder.path(), 2);
    Desktop desktop(options, [] {});
    desktop.begin();
    bool shown = false;
    until([&] { return shown = shown || desktop.turn(0.01).picture.has_value(); });
    desktop.ask(TogglePlay{});
    CHECK(desktop.state().playing.running);
    until([&] { return (void)desktop.turn(0.01), !desktop.state().playing.running; });
    CHECK(desktop.state().playing.pts == desktop.state().clip->index->pictures.back().pts);
    CHECK(desktop.state().playing.silent);
    desktop.ask(Quit{});
    CHECK(desktop.turn(0.01).quit);
}
