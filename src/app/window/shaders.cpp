#include "app/window/shaders.hpp"

#include "app/window/gl.hpp"

namespace quarterturn::app::window {
namespace {

constexpr const char* vertex_text = R"(#version 330 core
void main() {  // one triangle over everything
    vec2 at = vec2((gl_VertexID << 1) & 2, gl_VertexID & 2);
    gl_Position = vec4(at * 2.0 - 1.0, 0.0, 1.0);
})";

unsigned int compiled(unsigned int kind, const char* text) {
    const unsigned int shader = glCreateShader(kind);
    glShaderSource(shader, 1, &text, nullptr);
    glCompileShader(shader);
    int done = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &done);
    if (done != 0) return shader;
    glDeleteShader(shader);
    return 0;
}

}  // namespace

unsigned int filling_program(const char* fragment_text) {
    const unsigned int vertex = compiled(GL_VERTEX_SHADER, vertex_text);
    const unsigned int fragment = compiled(GL_FRAGMENT_SHADER, fragment_text);
    if (vertex == 0 || fragment == 0) return 0;
    const unsigned int program = glCreateProgram();
    glAttachShader(program, vertex);
    glAttachShader(program, fragment);
    glLinkProgram(program);
    glDeleteShader(vertex);
    glDeleteShader(fragment);
    int done = 0;
    glGetProgramiv(program, GL_LINK_STATUS, &done);
    if (done != 0) return program;
    glDeleteProgram(program);
    return 0;
}

void draw_into(unsigned int frame, unsigned int texture, int width, int height) {
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    glBindFramebuffer(GL_FRAMEBUFFER, frame);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture, 0);
}

}  // namespace quarterturn::app::window
