#include "hand.hpp"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <X11/Xlib.h>
#include <X11/extensions/XTest.h>

#include <algorithm>

namespace quarterturn::test {

Hand::Hand() : display_(XOpenDisplay(nullptr)) {}

Hand::~Hand() {
    if (display_ != nullptr) XCloseDisplay(display_);
}

void Hand::flush() {
    XFlush(display_);
}

void Hand::move(int x, int y) {
    XTestFakeMotionEvent(display_, -1, x, y, CurrentTime);
    flush();
}

void Hand::button(unsigned number, bool down) {
    XTestFakeButtonEvent(display_, number, down ? True : False, CurrentTime);
    std::erase(buttons_, number);
    if (down) buttons_.push_back(number);
    flush();
}

void Hand::key(const char* name, bool down) {
    const unsigned code = XKeysymToKeycode(display_, XStringToKeysym(name));
    if (code == 0) return;
    XTestFakeKeyEvent(display_, code, down ? True : False, CurrentTime);
    std::erase(keys_, code);
    if (down) keys_.push_back(code);
    flush();
}

void Hand::let_go() {
    for (const unsigned code : keys_) XTestFakeKeyEvent(display_, code, False, CurrentTime);
    for (const unsigned number : buttons_) XTestFakeButtonEvent(display_, number, False, CurrentTime);
    keys_.clear();
    buttons_.clear();
    flush();
}

void Hand::type(GLFWwindow* window, unsigned int character) {
    const GLFWcharfun typed = glfwSetCharCallback(window, nullptr);
    glfwSetCharCallback(window, typed);
    if (typed != nullptr) typed(window, character);
}

void Hand::drop(GLFWwindow* window, const std::vector<std::filesystem::path>& paths) {
    const GLFWdropfun dropped = glfwSetDropCallback(window, nullptr);
    glfwSetDropCallback(window, dropped);
    std::vector<const char*> names;
    for (const auto& path : paths) names.push_back(path.c_str());
    if (dropped != nullptr) dropped(window, static_cast<int>(names.size()), names.data());
}

}  // namespace quarterturn::test
