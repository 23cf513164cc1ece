#pragma once
/// Building programs for the graphics card.

namespace quarterturn::app::window {

/// Needs a current OpenGL 3.3 context. @return the program's name; 0 where it could not be built
[[nodiscard]] unsigned int linked_program(const char* vertex_text, const char* fragment_text);

}  // namespace quarterturn::app::window
