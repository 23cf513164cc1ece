/// From the start of the process to what a person waits for: the first picture of a film (`quarterturn CLIP`), and the
/// library page with a library of sample films. Every start is a process of its own; what is on screen is read from the
/// screen. Needs a display: tests/on_a_screen.sh build/dev/bin/start_bench
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <time.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "../temporary_folder.hpp"
#include "app/app.hpp"
#include "app/layout.hpp"
#include "app/palette.hpp"
#include "app/window/gl.hpp"
#include "bench_films.hpp"
#include "share/demo_library.hpp"

using namespace quarterturn;

namespace {

constexpr int width = 1280, height = 800;

/// Since this process began, to a hundredth.
double age_s() {
    std::ifstream file("/proc/self/stat");
    std::stringstream text;
    text << file.rdbuf();
    std::stringstream fields(text.str().substr(text.str().rfind(')') + 2));
    std::string field;
    for (int i = 3; i <= 22; ++i) fields >> field;
    timespec now{};
    ::clock_gettime(CLOCK_BOOTTIME, &now);
    return static_cast<double>(now.tv_sec) + static_cast<double>(now.tv_nsec) * 1e-9 -
           std::atof(field.c_str()) / static_cast<double>(::sysconf(_SC_CLK_TCK));
}

/// Of all threads of this process so far.
double processor_s() {
    timespec used{};
    ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &used);
    return static_cast<double>(used.tv_sec) + static_cast<double>(used.tv_nsec) * 1e-9;
}

app::Rgb on_screen(float x, float y) {
    std::array<std::uint8_t, 3> rgb{};
    glBindFramebuffer(GL_READ_FRAMEBUFFER, 0);
    glReadBuffer(GL_BACK);  // the renderer copies it to the front and leaves it
    glReadPixels(static_cast<int>(x), height - 1 - static_cast<int>(y), 1, 1, GL_RGB, GL_UNSIGNED_BYTE, rgb.data());
    return {rgb[0], rgb[1], rgb[2]};
}

bool film_is_there() {
    // Above the words that stand there until then; the film's wall has none of the window's own colours.
    const app::Box stage = app::clip_layout(width, height, 1, false).stage;
    const app::Rgb colour = on_screen(stage.x + stage.w / 2, stage.y + stage.h / 4);
    const app::Palette& own = app::palette(app::Theme::light);
    return colour != own.felt && colour != own.paper && colour != own.card && colour != app::Rgb{};
}

bool library_is_there() {
    // A session's card lies there; the start page and an empty library have paper.
    return on_screen(width / 2, 95) == app::palette(app::Theme::light).card;
}

int one_start(const std::string& what, const std::string& path) {
    app::AppOptions options;
    options.remember_library = false;
    (what == "clip" ? options.clip : options.library) = path;
    int turns = 0;
    options.before_turn = [&] {
        if (++turns > 2000) std::exit(3);  // a colour that never comes
        if (turns == 1 || glfwWindowShouldClose(glfwGetCurrentContext()) != 0) return;
        if (turns == 2) fmt::print("window {:.3f} ", age_s());
        if (!(what == "clip" ? film_is_there() : library_is_there())) return;
        fmt::print("shown {:.3f} processor {:.3f}\n", age_s(), processor_s());
        glfwSetWindowShouldClose(glfwGetCurrentContext(), GLFW_TRUE);
    };
    return app::run(options);
}

void measure(const std::string& name, const std::string& what, const std::string& path) {
    const std::string self = std::filesystem::read_symlink("/proc/self/exe").string();
    std::vector<double> window, shown, processor;
    for (int i = 0; i < 7; ++i) {
        const std::string output = bench::run("'" + self + "' '" + what + "' '" + path + "'");
        double first = 0, then = 0, used = 0;
        if (std::sscanf(output.c_str(), "window %lf shown %lf processor %lf", &first, &then, &used) != 3) continue;
        window.push_back(first);
        shown.push_back(then);
        processor.push_back(used);
    }
    fmt::print(
        "{}: {} starts, window after {:.2f} s, {} after {:.2f} s (shortest {:.2f}), {:.2f} s of processor "
        "time; must be under 1 s\n",
        name, shown.size(), bench::median(window), what == "clip" ? "picture" : "library", bench::median(shown),
        shown.empty() ? 0 : *std::min_element(shown.begin(), shown.end()), bench::median(processor));
}

}  // namespace

int main(int argc, char** argv) {
    if (argc == 3) return one_start(argv[1], argv[2]);
    const test::TemporaryFolder home;
    for (const char* name : {"HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"}) ::setenv(name, home.path().c_str(), 1);
    const auto samples = share::sample_clips_folder();
    const auto library = share::demo_library(home.path() / "demo", samples);
    if (!library) return fmt::print("{}\n", library.error().detail), 1;
    measure("sample film", "clip", (samples / "this_season/2026-03-07_quarter_turns.mp4").string());
    measure("1080p H.264 film", "clip", bench::h264_1080p().string());
    measure("demo library", "library", (home.path() / "demo").string());
    return 0;
}
