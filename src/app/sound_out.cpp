#include "app/sound_out.hpp"

#include <SDL.h>

#include "media/sound.hpp"

namespace quarterturn::app {
namespace {

class SdlOut : public SoundOut {
  public:
    explicit SdlOut(SDL_AudioDeviceID device) : device_(device) {}
    ~SdlOut() override {
        SDL_CloseAudioDevice(device_);
        SDL_QuitSubSystem(SDL_INIT_AUDIO);
    }
    SdlOut(const SdlOut&) = delete;
    SdlOut& operator=(const SdlOut&) = delete;
    void put(std::span<const float> samples) override {
        SDL_QueueAudio(device_, samples.data(), static_cast<Uint32>(samples.size_bytes()));
    }
    [[nodiscard]] std::size_t waiting() const override { return SDL_GetQueuedAudioSize(device_) / (2 * sizeof(float)); }
    void run(bool on) override { SDL_PauseAudioDevice(device_, on ? 0 : 1); }
    void clear() override { SDL_ClearQueuedAudio(device_); }

  private:
    SDL_AudioDeviceID device_;
};

}  // namespace

std::unique_ptr<SoundOut> open_sound_device() {
    if (SDL_InitSubSystem(SDL_INIT_AUDIO) != 0) return nullptr;
    SDL_AudioSpec wanted{};
    wanted.freq = media::sound_rate_hz;
    wanted.format = AUDIO_F32SYS;
    wanted.channels = 2;
    wanted.samples = 1024;
    const SDL_AudioDeviceID device = SDL_OpenAudioDevice(nullptr, 0, &wanted, nullptr, 0);
    if (device == 0) {
        SDL_QuitSubSystem(SDL_INIT_AUDIO);
        return nullptr;
    }
    return std::make_unique<SdlOut>(device);
}

}  // namespace quarterturn::app
