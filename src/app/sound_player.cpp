#include "app/sound_player.hpp"

#include <algorithm>
#include <chrono>
#include <vector>

#include "media/sound.hpp"

namespace quarterturn::app {
namespace {

constexpr std::size_t block = 2048;       // pairs read at a time
constexpr std::size_t ahead = 48000 / 5;  // pairs kept waiting at the device
constexpr double rate = media::sound_rate_hz;

}  // namespace

// Lives on the sound thread: reader, device and what was handed over.
class SoundPlayer::Worker {
  public:
    explicit Worker(std::unique_ptr<SoundOut> device) : device_(std::move(device)) {}

    [[nodiscard]] bool silent() const { return !device_ || !reader_; }

    void take_film(const std::filesystem::path& film) {
        stop();
        reader_.reset();
        if (film.empty() || !device_) return;
        if (auto reader = media::SoundReader::open(film)) reader_ = std::move(*reader);
    }

    void start(const Wanted& wanted) {
        stop();
        if (silent()) return;
        wanted_ = wanted;
        at_s_ = wanted.from_s;
        ended_ = !reader_->start(wanted.from_s, wanted.speed).has_value();
        fill();
    }

    // The pictures may have started before the sound was ready: what is late is not played.
    void go(double skip_s) {
        if (silent() || running_) return;
        auto skip = static_cast<std::size_t>(std::max(0.0, skip_s / wanted_.speed) * rate);
        running_ = true;
        std::size_t pairs = buffer_.size() / 2;
        while (skip > pairs && !ended_) {
            skip -= pairs;
            handed_ += pairs;
            buffer_.clear();
            fill();
            pairs = buffer_.size() / 2;
        }
        skip = std::min(skip, pairs);
        buffer_.erase(buffer_.begin(), buffer_.begin() + static_cast<std::ptrdiff_t>(skip * 2));
        handed_ += skip;
        device_->run(true);
    }

    void stop() {
        if (device_) {
            device_->run(false);
            device_->clear();
        }
        buffer_.clear();
        handed_ = 0;
        running_ = false;
        ended_ = true;
    }

    // Keeps the device fed. @return seconds of film heard, or less than zero when there is nothing to follow
    double feed() {
        if (silent() || !running_) return -1;
        while (device_->waiting() < ahead && !(ended_ && buffer_.empty())) {
            fill();
            device_->put(buffer_);
            handed_ += buffer_.size() / 2;
            buffer_.clear();
        }
        const std::size_t waiting = device_->waiting();
        if (ended_ && waiting == 0) return -1;
        return static_cast<double>(handed_ - std::min(handed_, waiting)) / rate * wanted_.speed;
    }

  private:
    void fill() {
        if (ended_ || buffer_.size() / 2 >= block) return;
        const std::size_t had = buffer_.size() / 2;
        if (!reader_->read(block, buffer_)) ended_ = true;
        std::size_t got = buffer_.size() / 2 - had;
        if (got < block) ended_ = true;
        if (!wanted_.repeat) return;
        const auto left =
            static_cast<std::size_t>(std::max(0.0, (wanted_.repeat->end_s - at_s_) / wanted_.speed * rate));
        if (got < left && !ended_) {
            at_s_ += static_cast<double>(got) / rate * wanted_.speed;
            return;
        }
        // The stretch ends inside this block (or the sound did): keep its length exactly and start over.
        buffer_.resize((had + left) * 2, 0.0F);
        at_s_ = wanted_.repeat->start_s;
        ended_ = !reader_->start(at_s_, wanted_.speed).has_value();
    }

    std::unique_ptr<SoundOut> device_;
    std::optional<media::SoundReader> reader_;
    Wanted wanted_;
    std::vector<float> buffer_;
    std::size_t handed_ = 0;
    double at_s_ = 0;
    bool running_ = false, ended_ = true;
};

SoundPlayer::SoundPlayer(OpenDevice open_device)
    : open_device_(std::move(open_device)), thread_([this](const std::stop_token& stop) { run(stop); }) {}

void SoundPlayer::open(const std::filesystem::path& film) {
    const std::lock_guard lock(mutex_);
    wanted_.film = film;
    ++wanted_.film_number;
    wanted_.playing = wanted_.going = false;
    heard_ = -1;
    changed_.notify_all();
}

void SoundPlayer::prepare(double from_s, double speed, std::optional<SoundStretch> repeat) {
    const std::lock_guard lock(mutex_);
    wanted_.from_s = from_s;
    wanted_.speed = speed;
    wanted_.repeat = repeat;
    wanted_.playing = true;
    wanted_.going = false;
    ++wanted_.play_number;
    heard_ = -1;
    changed_.notify_all();
}

void SoundPlayer::go(double skip_s) {
    const std::lock_guard lock(mutex_);
    wanted_.going = true;
    wanted_.skip_s = skip_s;
    changed_.notify_all();
}

void SoundPlayer::pause() {
    const std::lock_guard lock(mutex_);
    wanted_.playing = wanted_.going = false;
    heard_ = -1;
    changed_.notify_all();
}

std::optional<double> SoundPlayer::heard() const {
    const double heard = heard_;
    if (heard < 0) return std::nullopt;
    return heard;
}

void SoundPlayer::run(const std::stop_token& stop) {
    using namespace std::chrono_literals;
    Worker worker(open_device_());
    std::uint64_t film = 0, play = 0;
    while (!stop.stop_requested()) {
        Wanted wanted;
        {
            std::unique_lock lock(mutex_);
            const auto news = [&] {
                return wanted_.film_number != film || (wanted_.playing && wanted_.play_number != play) ||
                       (!wanted_.playing && play != 0);
            };
            if (play == 0)
                changed_.wait(lock, stop, news);
            else
                changed_.wait_for(lock, stop, 10ms, news);
            wanted = wanted_;
        }
        if (stop.stop_requested()) break;
        if (wanted.film_number != film) {
            film = wanted.film_number;
            play = 0;
            worker.take_film(wanted.film);
            silent_ = worker.silent();
        }
        if (!wanted.playing && play != 0) {
            worker.stop();
            play = 0;
        }
        if (wanted.playing && wanted.play_number != play) {
            play = wanted.play_number;
            worker.start(wanted);
        }
        if (wanted.playing && wanted.going) {
            worker.go(wanted.skip_s);
            const double heard = worker.feed();
            const std::lock_guard lock(mutex_);
            if (wanted_.playing && wanted_.play_number == play) heard_ = heard;
        }
    }
    worker.stop();
}

}  // namespace quarterturn::app
