#include "app/window/aligned_picture.hpp"

#include "app/window/gl.hpp"
#include "app/window/shaders.hpp"

namespace quarterturn::app::window {
namespace {

constexpr const char* fragment_text = R"(#version 330 core
uniform sampler2D picture;
uniform mat3x2 to_picture;
uniform vec2 size;
uniform vec3 gains;
uniform bool lit;
out vec4 shown;

vec3 to_light(vec3 c) {  // IEC 61966-2-1
    return mix(c / 12.92, pow((c + 0.055) / 1.055, vec3(2.4)), step(vec3(0.04045), c));
}
vec3 from_light(vec3 light) {
    vec3 c = clamp(light, 0.0, 1.0);
    return mix(12.92 * c, 1.055 * pow(c, vec3(1.0 / 2.4)) - 0.055, step(vec3(0.0031308), c));
}
void main() {
    vec2 at = to_picture * vec3(gl_FragCoord.xy / size, 1.0);
    bool inside = all(greaterThanEqual(at, vec2(0.0))) && all(lessThanEqual(at, vec2(1.0)));
    vec3 rgb = texture(picture, at).rgb;
    if (lit) rgb = from_light(to_light(rgb) * gains);
    shown = vec4(rgb, inside ? 1.0 : 0.0);
})";

}  // namespace

AlignedPicture::AlignedPicture() : program_(filling_program(fragment_text)) {
    glGenVertexArrays(1, &vertices_);
    glGenFramebuffers(1, &frame_);
    glGenTextures(1, &target_);
}

AlignedPicture::~AlignedPicture() {
    glDeleteTextures(1, &target_);
    glDeleteFramebuffers(1, &frame_);
    glDeleteVertexArrays(1, &vertices_);
    if (program_ != 0) glDeleteProgram(program_);
}

unsigned int AlignedPicture::draw(unsigned int picture, bool fresh, const How& how) {
    if (program_ == 0 || picture == 0 || how.width <= 0 || how.height <= 0) return 0;
    if (!fresh && picture == from_ && how == drawn_) return target_;
    if (how.width != drawn_.width || how.height != drawn_.height) {
        draw_into(frame_, target_, how.width, how.height);
    }
    from_ = picture;
    drawn_ = how;
    glBindFramebuffer(GL_FRAMEBUFFER, frame_);
    glViewport(0, 0, how.width, how.height);
    glDisable(GL_BLEND);
    glDisable(GL_SCISSOR_TEST);
    glUseProgram(program_);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, picture);
    glUniform1i(glGetUniformLocation(program_, "picture"), 0);
    glUniform2f(glGetUniformLocation(program_, "size"), static_cast<float>(how.width), static_cast<float>(how.height));
    // Columns: one step right, one step down, the corner.
    std::array<float, 6> columns{};
    for (std::size_t row = 0; row < 2; ++row)
        for (std::size_t column = 0; column < 3; ++column)
            columns[column * 2 + row] = static_cast<float>(how.to_picture[row * 3 + column]);
    glUniformMatrix3x2fv(glGetUniformLocation(program_, "to_picture"), 1, GL_FALSE, columns.data());
    glUniform3f(glGetUniformLocation(program_, "gains"), static_cast<float>(how.gains[0]),
                static_cast<float>(how.gains[1]), static_cast<float>(how.gains[2]));
    glUniform1i(glGetUniformLocation(program_, "lit"), how.gains == std::array<double, 3>{1, 1, 1} ? 0 : 1);
    glBindVertexArray(vertices_);
    glDrawArrays(GL_TRIANGLES, 0, 3);
    glBindVertexArray(0);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    return target_;
}

}  // namespace quarterturn::app::window
