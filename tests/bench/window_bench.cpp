/// Cost of one window frame (without a new picture) against replaying the draw data it recorded, on the same renderer
/// in the same run. Needs a display: xvfb-run build/dev/bin/window_bench
#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "../app/desk.hpp"
#include "app/clock.hpp"
#include "app/window/gl.hpp"
#include "app/window/window.hpp"

#include <backends/imgui_impl_opengl3.h>

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

double median(std::vector<double> values) {
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2), values.end());
    return values[values.size() / 2];
}

}  // namespace

int main() {
    auto window = window::Window::open({1280, 800, true, "quarterturn"});
    if (!window) return fmt::print("{}\n", window.error().detail), 1;
    ReviewState state = desk();
    (void)apply(state, OpenCard{"quarter_front"}).has_value();
    views::Scratch scratch;
    (*window)->dress(Theme::light, 1, {});
    std::vector<double> whole, replay;
    for (int i = 0; i < 220; ++i) {
        (*window)->wait(0);
        Commands out;
        double start = steady_seconds();
        (*window)->begin_frame();
        const auto cards = cards_of(state);
        const views::View view{state,
                               out,
                               palette(Theme::light),
                               (*window)->fonts(),
                               1,
                               scratch,
                               nullptr,
                               [](std::int64_t, ImVec2&) -> ImTextureID { return nullptr; },
                               cards};
        views::draw_everything(view, 1280, 800);
        ImGui::Render();
        glClear(GL_COLOR_BUFFER_BIT);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        glFinish();
        const double frame = steady_seconds() - start;
        start = steady_seconds();
        glClear(GL_COLOR_BUFFER_BIT);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        glFinish();
        const double again = steady_seconds() - start;
        if (i < 20) continue;  // fonts and caches warm up
        whole.push_back(frame);
        replay.push_back(again);
    }
    fmt::print("window frame {:.2f} ms, replay of its draw data {:.2f} ms, ratio {:.2f} (must be at most 1.3)\n",
               median(whole) * 1000, median(replay) * 1000, median(whole) / median(replay));
    return 0;
}
