#pragma once
/// Building programs for the graphics card.

namespace quarterturn::app::window {

/// A program that colours everything it is drawn on, with one triangle of three vertices without attributes. Needs a
/// current OpenGL 3.3 context. @return the program's name; 0 where it could not be built
[[nodiscard]] unsigned int filling_program(const char* fragment_text);

}  // namespace quarterturn::app::window
