#include "app/window/window.hpp"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>

#include "app/window/gl.hpp"
#include "app/window/key_names.hpp"

namespace quarterturn::app::window {
namespace {

Window* of(GLFWwindow* window) {
    return static_cast<Window*>(glfwGetWindowUserPointer(window));
}

}  // namespace

Result<std::unique_ptr<Window>> Window::open(const WindowOptions& options) {
    const Error no_window{ErrorCode::missing_part,
                          "No window can be opened here: the program needs a display with OpenGL 3.3."};
    if (glfwInit() == GLFW_FALSE) return no_window;
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_VISIBLE, options.visible ? GLFW_TRUE : GLFW_FALSE);
    glfwWindowHintString(GLFW_X11_CLASS_NAME, "quarterturn");
    GLFWwindow* window = glfwCreateWindow(options.width, options.height, options.title, nullptr, nullptr);
    if (window == nullptr) {
        glfwTerminate();
        return no_window;
    }
    glfwSetWindowSizeLimits(window, 960, 600, GLFW_DONT_CARE, GLFW_DONT_CARE);
    glfwMakeContextCurrent(window);
    glfwSwapInterval(1);
    return std::unique_ptr<Window>(new Window(window));
}

Window::Window(GLFWwindow* window) : window_(window), files_(find_fonts(font_folders())) {
    glfwSetWindowUserPointer(window, this);
    IMGUI_CHECKVERSION();
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui::GetIO().LogFilename = nullptr;
    ImGui_ImplGlfw_InitForOpenGL(window, true);
    ImGui_ImplOpenGL3_Init("#version 330 core");
    glfwSetKeyCallback(window, on_key);
    glfwSetDropCallback(window, on_drop);
}

Window::~Window() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    ImGui::DestroyContext();
    glfwDestroyWindow(window_);
    glfwTerminate();
}

void Window::on_key(GLFWwindow* window, int key, int code, int action, int mods) {
    const bool pressed = action != GLFW_RELEASE;
    const auto chord = chord_of(key, code, mods);
    const bool typing = ImGui::GetIO().WantTextInput;
    // While a text is written, letters and the arrows belong to it; what ends the writing does not reach the text box,
    // which would take it for "forget what was written".
    const bool ends = chord && (chord->key == "Escape" || (chord->ctrl && chord->key == "Enter"));
    const bool function_key =
        chord && chord->key.size() > 1 && chord->key[0] == 'F' && chord->key[1] >= '1' && chord->key[1] <= '9';
    if (!(typing && ends)) ImGui_ImplGlfw_KeyCallback(window, key, code, action, mods);
    if (pressed && chord && (!typing || ends || function_key)) of(window)->chords_.push_back(*chord);
}

void Window::on_drop(GLFWwindow* window, int count, const char** paths) {
    for (int i = 0; i < count; ++i) of(window)->drops_.emplace_back(paths[i]);
}

void Window::wait(double seconds) {
    if (seconds <= 0)
        glfwPollEvents();
    else
        glfwWaitEventsTimeout(seconds);
}

void Window::wake() {
    glfwPostEmptyEvent();
}

bool Window::closing() const {
    return glfwWindowShouldClose(window_) != 0;
}

void Window::stay_open() {
    glfwSetWindowShouldClose(window_, GLFW_FALSE);
}

void Window::full_screen(bool on) {
    if (on == (glfwGetWindowMonitor(window_) != nullptr)) return;
    if (on) {
        glfwGetWindowPos(window_, &normal_[0], &normal_[1]);
        glfwGetWindowSize(window_, &normal_[2], &normal_[3]);
        GLFWmonitor* monitor = glfwGetPrimaryMonitor();
        const GLFWvidmode* mode = monitor != nullptr ? glfwGetVideoMode(monitor) : nullptr;
        if (mode != nullptr) glfwSetWindowMonitor(window_, monitor, 0, 0, mode->width, mode->height, mode->refreshRate);
    } else {
        glfwSetWindowMonitor(window_, nullptr, normal_[0], normal_[1], normal_[2], normal_[3], 0);
    }
}

double Window::screen_scale() const {
    float x = 1, y = 1;
    glfwGetWindowContentScale(window_, &x, &y);
    return static_cast<double>(x);
}

void Window::size(int& width, int& height) const {
    glfwGetFramebufferSize(window_, &width, &height);
}

void Window::dress(Theme theme, float scale, const NeededCharacters& needed) {
    if (scale != scale_ || needed.all().size() != needed_) {
        load_fonts(scale, needed);
        theme_.reset();
    }
    if (theme_ == theme) return;
    theme_ = theme;
    views::dress(ImGui::GetStyle(), palette(theme), scale);
}

void Window::load_fonts(float scale, const NeededCharacters& needed) {
    scale_ = scale;
    needed_ = needed.all().size();
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    ranges_.clear();
    std::vector<ImWchar> usual, rare;
    for (const auto& [first, last] : usual_ranges()) {
        usual.push_back(static_cast<ImWchar>(first));
        usual.push_back(static_cast<ImWchar>(last));
    }
    for (const std::uint32_t point : needed.all()) {
        rare.push_back(static_cast<ImWchar>(point));
        rare.push_back(static_cast<ImWchar>(point));
    }
    usual.push_back(0);
    rare.push_back(0);
    ranges_ = {usual, rare};
    const auto add = [&](const std::filesystem::path& file, float size) {
        if (!files_) return atlas.AddFontDefault();
        ImFont* font = atlas.AddFontFromFileTTF(file.c_str(), size * scale, nullptr, ranges_[0].data());
        ImFontConfig more;
        more.MergeMode = true;
        if (needed_ > 0) {
            atlas.AddFontFromFileTTF(file.c_str(), size * scale, &more, ranges_[1].data());
            for (const auto& other : files_->more)
                atlas.AddFontFromFileTTF(other.c_str(), size * scale, &more, ranges_[1].data());
        }
        return font != nullptr ? font : atlas.AddFontDefault();
    };
    const FontFiles files = files_.value_or(FontFiles{});
    fonts_.text = add(files.text, 16);
    fonts_.bold = add(files.bold, 17);
    fonts_.small = add(files.text, 13.5F);
    fonts_.big = add(files.bold, 23);
    atlas.Build();
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
}

void Window::begin_frame() {
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    ImGui::NewFrame();
}

void Window::end_frame(Rgb ground) {
    ImGui::Render();
    int width = 0, height = 0;
    size(width, height);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    glViewport(0, 0, width, height);
    glClearColor(static_cast<float>(ground.r) / 255, static_cast<float>(ground.g) / 255,
                 static_cast<float>(ground.b) / 255, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(window_);
}

bool Window::typing() const {
    return ImGui::GetIO().WantTextInput;
}

void Window::stop_typing() {
    ImGui::SetWindowFocus(nullptr);
}

std::vector<Chord> Window::take_chords() {
    return std::exchange(chords_, {});
}

std::vector<std::filesystem::path> Window::take_drops() {
    return std::exchange(drops_, {});
}

}  // namespace quarterturn::app::window
