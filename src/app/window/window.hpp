#pragma once
/// The window itself: GLFW, OpenGL 3.3, the widget library, fonts, and what people do with keys, mouse and dropped
/// files.
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "app/fonts.hpp"
#include "app/keys.hpp"
#include "app/palette.hpp"
#include "app/views/look.hpp"
#include "base/result.hpp"

struct GLFWwindow;

namespace quarterturn::app::window {

struct WindowOptions {
    int width = 1280, height = 800;
    bool visible = true;
    const char* title = "quarterturn";
};

class Window {
  public:
    /// @error missing_part: no display, or one without OpenGL 3.3
    [[nodiscard]] static Result<std::unique_ptr<Window>> open(const WindowOptions& options);
    ~Window();
    Window(const Window&) = delete;
    Window& operator=(const Window&) = delete;

    /// Waits for something to happen, at most `seconds`.
    void wait(double seconds);
    /// Gets `wait` to return; from any thread.
    static void wake();
    [[nodiscard]] bool closing() const;
    void stay_open();  ///< after closing(): somebody has to be asked first
    void full_screen(bool on);

    /// Pixels per design unit that the screen asks for.
    [[nodiscard]] double screen_scale() const;
    void size(int& width, int& height) const;

    /// Makes fonts and colours fit; costs nothing when nothing changed. Called between frames.
    void dress(Theme theme, float scale, const NeededCharacters& needed);
    [[nodiscard]] const views::Fonts& fonts() const { return fonts_; }

    void begin_frame();
    void end_frame(Rgb ground);

    /// A text box has the keyboard.
    [[nodiscard]] bool typing() const;
    /// Takes the keyboard away from any text box.
    void stop_typing();

    /// What was pressed and dropped since the last call.
    [[nodiscard]] std::vector<Chord> take_chords();
    [[nodiscard]] std::vector<std::filesystem::path> take_drops();

  private:
    explicit Window(GLFWwindow* window);
    static void on_key(GLFWwindow* window, int key, int code, int action, int mods);
    static void on_drop(GLFWwindow* window, int count, const char** paths);
    void load_fonts(float scale, const NeededCharacters& needed);

    GLFWwindow* window_;
    views::Fonts fonts_;
    float scale_ = 0;
    std::size_t needed_ = 0;
    std::optional<Theme> theme_;
    std::optional<FontFiles> files_;
    std::vector<std::vector<ImWchar>> ranges_;
    std::vector<Chord> chords_;
    std::vector<std::filesystem::path> drops_;
    int normal_[4] = {0, 0, 1280, 800};
};

}  // namespace quarterturn::app::window
