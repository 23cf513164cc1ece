#include "app/sound_out.hpp"

#include <SDL.h>
#include <dlfcn.h>

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

extern "C" void say_nothing(const char*, int, const char*, int, const char*, ...) {}

// Without a sound device the sound library of the system writes its search to standard error, where a person would take
// it for a fault of this program. It is loaded by SDL where it is there at all; this program does not need it.
void quieten_sound_library() {
    using Handler = void (*)(const char*, int, const char*, int, const char*, ...);
    void* library = dlopen("libasound.so.2", RTLD_LAZY);
    if (library == nullptr) return;
    if (void* set_handler = dlsym(library, "snd_lib_error_set_handler"))
        reinterpret_cast<int (*)(Handler)>(set_handler)(say_nothing);
}

}  // namespace

std::unique_ptr<SoundOut> open_sound_device() {
    // SDL would take Ctrl+C and the system's wish to end the program for itself, and nobody here asks it for them.
    SDL_SetHint(SDL_HINT_NO_SIGNAL_HANDLERS, "1");
    quieten_sound_library();
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
