// The picture as the real view puts it on the stage: sample aspect, turning, mirror and zoom, read from the screen.
#include <backends/imgui_impl_opengl3.h>
#include <doctest.h>

#include <algorithm>
#include <cmath>

#include "../desk.hpp"
#include "app/picture_view.hpp"
#include "app/window/yuv_program.hpp"
#include "patches.hpp"
#include "screen.hpp"

using namespace quarterturn;
using namespace quarterturn::app;
using namespace quarterturn::app::window;

namespace {

constexpr int width = 1280, height = 800;

class Stage {
  public:
    Stage() : window_(hidden_window(width, height)) {
        if (!window_) return;
        program_ = std::make_unique<YuvProgram>();
        window_->dress(Theme::dark, 1, {});
    }
    [[nodiscard]] bool ready() const { return window_ && program_->ready(); }

    /// The whole window, rows from the top.
    media::Image shown(const ReviewState& state, const media::Picture& picture) {
        program_->upload(picture, state.clip->info.rotation_deg, state.clip->info.flipped);
        const unsigned int film = program_->draw(10000);
        const auto cards = cards_of(state);
        for (int i = 0; i < 3; ++i) {  // widgets settle
            Commands out;
            window_->begin_frame();
            const views::View view{state,
                                   out,
                                   palette(Theme::dark),
                                   window_->fonts(),
                                   1,
                                   scratch_,
                                   reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(film)),
                                   [](std::int64_t, ImVec2&) -> ImTextureID { return nullptr; },
                                   cards};
            views::draw_everything(view, width, height);
            ImGui::Render();
        }
        glBindFramebuffer(GL_FRAMEBUFFER, 0);
        glViewport(0, 0, width, height);
        glClear(GL_COLOR_BUFFER_BIT);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        media::Image image{width, height, 3, std::vector<std::uint8_t>(3 * width * height)};
        glPixelStorei(GL_PACK_ALIGNMENT, 1);
        glReadBuffer(GL_BACK);
        glReadPixels(0, 0, width, height, GL_RGB, GL_UNSIGNED_BYTE, image.samples.data());
        for (int y = 0; y < height / 2; ++y)
            std::swap_ranges(image.samples.begin() + y * width * 3, image.samples.begin() + (y + 1) * width * 3,
                             image.samples.begin() + (height - 1 - y) * width * 3);
        return image;
    }

  private:
    std::unique_ptr<Window> window_;
    std::unique_ptr<YuvProgram> program_;
    views::Scratch scratch_;
};

const std::uint8_t* pixel(const media::Image& image, int x, int y) {
    return image.samples.data() + std::ptrdiff_t{3} * (y * image.width + x);
}

/// Largest difference over the middles of all patches that are on the stage. @param columns, rows  as shown upright
int worst(const media::Image& screen, const media::Image& upright, const PictureView& view, const Box& stage,
          int columns, int rows) {
    int worst = 0, seen = 0;
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column) {
            const Spot middle{(column + 0.5) / columns, (row + 0.5) / rows};
            const ScreenSpot at = view.to_screen(middle);
            if (!stage.contains(at.x - 2, at.y - 2) || !stage.contains(at.x + 2, at.y + 2)) continue;
            ++seen;
            const std::uint8_t* a = pixel(screen, static_cast<int>(at.x), static_cast<int>(at.y));
            const std::uint8_t* b =
                pixel(upright, static_cast<int>(middle.x * upright.width), static_cast<int>(middle.y * upright.height));
            for (int c = 0; c < 3; ++c) worst = std::max(worst, std::abs(a[c] - b[c]));
        }
    REQUIRE(seen >= 4);
    return worst;
}

}  // namespace

TEST_CASE("the stage shows each part of the picture where and in the colour it belongs") {
    Stage stage;
    REQUIRE(stage.ready());
    struct Way {
        int num, den, rotation;
        bool flipped, mirrored;
        double zoom;
    };
    for (const Way& way :
         {Way{1, 1, 0, false, false, 1}, Way{2, 1, 0, false, false, 1}, Way{3, 4, 0, false, true, 1},
          Way{4, 3, -90, false, false, 1}, Way{4, 3, 90, true, true, 1}, Way{2, 1, 180, false, true, 1},
          Way{1, 1, -90, false, false, 2.5}, Way{2, 1, 90, false, true, 2.5}}) {
        CAPTURE(way.num);
        CAPTURE(way.rotation);
        CAPTURE(way.mirrored);
        CAPTURE(way.zoom);
        const media::Picture picture = test::patches(9, 6, {8, 1});
        ReviewState state = desk();
        media::ClipInfo& info = state.clip->info;
        info.width = picture.width;
        info.height = picture.height;
        info.sample_aspect_num = way.num;
        info.sample_aspect_den = way.den;
        info.rotation_deg = way.rotation;
        info.flipped = way.flipped;
        state.desk.zooming = {way.zoom, {0.45, 0.55}, way.mirrored};
        const Box box = clip_layout(width, height, 1, false).stage;
        const PictureView view(box, static_cast<double>(info.shown_width()) / info.shown_height(), state.desk.zooming);
        const bool lies = std::abs(way.rotation) == 90;
        const media::Image upright = media::to_rgb(picture, info).value();
        // In 8-bit steps: one from the film's texture to the screen's, two between shader and scaler (shader_test.cpp).
        CHECK(worst(stage.shown(state, picture), upright, view, box, lies ? 6 : 9, lies ? 9 : 6) <= 3);
        if (way.zoom == 1) {
            const Box& on_screen = view.picture();
            const double shape = static_cast<double>(on_screen.w) / static_cast<double>(on_screen.h);
            CHECK(shape == doctest::Approx(static_cast<double>(upright.width) / upright.height).epsilon(0.01));
        }
    }
}
