#pragma once
/// OpenGL 3.3 with its functions declared: the system's libGL carries them.
#define GL_GLEXT_PROTOTYPES
#include <GL/gl.h>
#include <GL/glext.h>
