#pragma once
#include <optional>

#include "app/keys.hpp"

namespace quarterturn::app::window {

/// GLFW's key event as a chord: printable keys by what the person's keyboard layout writes on them, where that is an
/// ASCII sign. Absent for keys that are only held (Shift...) and unknown ones.
[[nodiscard]] std::optional<Chord> chord_of(int key, int scan_code, int mods);

}  // namespace quarterturn::app::window
