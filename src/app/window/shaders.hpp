#pragma once
/// Programs and pictures on the graphics card.

namespace quarterturn::app::window {

/// A program that colours everything it is drawn on, with one triangle of three vertices without attributes. Needs a
/// current OpenGL 3.3 context. @return the program's name; 0 where it could not be built
[[nodiscard]] unsigned int filling_program(const char* fragment_text);

/// Makes `texture` a picture of that size which drawing into `frame` fills.
void draw_into(unsigned int frame, unsigned int texture, int width, int height);

}  // namespace quarterturn::app::window
