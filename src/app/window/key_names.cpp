#include "app/window/key_names.hpp"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

#include <array>

namespace quarterturn::app::window {
namespace {

struct Named {
    int key;
    const char* name;
};
constexpr std::array named{Named{GLFW_KEY_SPACE, "Space"},    Named{GLFW_KEY_ESCAPE, "Escape"},
                           Named{GLFW_KEY_ENTER, "Enter"},    Named{GLFW_KEY_KP_ENTER, "Enter"},
                           Named{GLFW_KEY_TAB, "Tab"},        Named{GLFW_KEY_BACKSPACE, "Backspace"},
                           Named{GLFW_KEY_INSERT, "Insert"},  Named{GLFW_KEY_DELETE, "Delete"},
                           Named{GLFW_KEY_RIGHT, "Right"},    Named{GLFW_KEY_LEFT, "Left"},
                           Named{GLFW_KEY_DOWN, "Down"},      Named{GLFW_KEY_UP, "Up"},
                           Named{GLFW_KEY_PAGE_UP, "PageUp"}, Named{GLFW_KEY_PAGE_DOWN, "PageDown"},
                           Named{GLFW_KEY_HOME, "Home"},      Named{GLFW_KEY_END, "End"},
                           Named{GLFW_KEY_MINUS, "Minus"},    Named{GLFW_KEY_KP_SUBTRACT, "Minus"},
                           Named{GLFW_KEY_KP_ADD, "Plus"}};

std::string name_of(int key, int scan_code) {
    for (const Named& entry : named)
        if (entry.key == key) return entry.name;
    if (key >= GLFW_KEY_F1 && key <= GLFW_KEY_F25) return "F" + std::to_string(key - GLFW_KEY_F1 + 1);
    if (key >= GLFW_KEY_KP_0 && key <= GLFW_KEY_KP_9)
        return std::string(1, static_cast<char>('0' + key - GLFW_KEY_KP_0));
    const char* written = glfwGetKeyName(key, scan_code);
    std::string text = written != nullptr ? written : "";
    if (text.size() != 1 || text[0] <= ' ' || text[0] > '~') {
        // Another alphabet: the place of the key on an English keyboard.
        if (key <= ' ' || key > '~') return {};
        text = std::string(1, static_cast<char>(key));
    }
    if (text == "+") return "Plus";
    if (text == "-") return "Minus";
    if (text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

}  // namespace

std::optional<Chord> chord_of(int key, int scan_code, int mods) {
    Chord chord;
    chord.ctrl = (mods & GLFW_MOD_CONTROL) != 0;
    chord.shift = (mods & GLFW_MOD_SHIFT) != 0;
    chord.alt = (mods & GLFW_MOD_ALT) != 0;
    chord.key = name_of(key, scan_code);
    if (chord.key.empty()) return std::nullopt;
    return chord;
}

}  // namespace quarterturn::app::window
