#include "app/window/yuv_program.hpp"

#include <algorithm>
#include <cmath>

#include "app/window/gl.hpp"
#include "app/window/shaders.hpp"
#include "media/shown_colour.hpp"

namespace quarterturn::app::window {
namespace {

constexpr const char* fragment_text = R"(#version 330 core
uniform sampler2D plane_y, plane_cb, plane_cr;
uniform mat3 matrix;
uniform vec3 offset;
uniform float sample_scale;  // stored samples to 0..1
uniform int transfer;        // 0 standard, 1 HLG, 2 PQ
uniform vec2 size;
uniform mat3x2 to_stored;    // upright place to stored place
uniform int taps;            // per side, when the picture is shown smaller
out vec4 shown;

vec3 hlg_scene(vec3 e) {
    const float a = 0.17883277, b = 1.0 - 4.0 * a;
    float c = 0.5 - a * log(4.0 * a);
    return mix(e * e / 3.0, (exp((e - c) / a) + b) / 12.0, step(vec3(0.5), e));
}
vec3 pq_light(vec3 e) {
    const float m1 = 2610.0 / 16384.0, m2 = 2523.0 / 32.0, c1 = 3424.0 / 4096.0, c2 = 2413.0 / 128.0, c3 = 2392.0 / 128.0;
    vec3 p = pow(max(e, 0.0), vec3(1.0 / m2));
    return 10000.0 * pow(max(p - c1, 0.0) / (c2 - c3 * p), vec3(1.0 / m1));
}
float rolled_off(float light) {
    if (light <= 0.5) return light;
    float over = (light - 0.5) / 0.5, most = (1000.0 / 203.0 - 0.5) / 0.5;
    return min(1.0, 0.5 + 0.5 * over * (1.0 + over / (most * most)) / (1.0 + over));
}
vec3 srgb(vec3 light) {
    vec3 c = clamp(light, 0.0, 1.0);
    return mix(12.92 * c, 1.055 * pow(c, vec3(1.0 / 2.4)) - 0.055, step(vec3(0.0031308), c));
}
vec3 to_standard(vec3 rgb) {
    vec3 light;
    if (transfer == 2) light = min(pq_light(rgb), 1000.0) / 203.0;
    else {
        light = hlg_scene(rgb);
        light *= 1000.0 / 203.0 * pow(max(dot(light, vec3(0.2627, 0.6780, 0.0593)), 0.0), 0.2);
    }
    vec3 wide = vec3(dot(light, vec3(1.6605, -0.5876, -0.0728)), dot(light, vec3(-0.1246, 1.1329, -0.0083)),
                     dot(light, vec3(-0.0182, -0.1006, 1.1187)));
    float most = max(max(wide.r, wide.g), max(wide.b, 1e-9));
    return srgb(wide * rolled_off(most) / most);
}
vec3 colour_at(vec2 place) {
    vec2 at = to_stored * vec3(place, 1.0);
    vec3 yuv = vec3(texture(plane_y, at).r, texture(plane_cb, at).r, texture(plane_cr, at).r) * sample_scale;
    return clamp(matrix * yuv + offset, 0.0, 1.0);
}
void main() {
    vec3 sum = vec3(0.0);
    for (int j = 0; j < taps; ++j)
        for (int i = 0; i < taps; ++i)
            sum += colour_at((gl_FragCoord.xy - 0.5 + (vec2(i, j) + 0.5) / float(taps)) / size);
    vec3 rgb = sum / float(taps * taps);
    shown = vec4(transfer == 0 ? rgb : to_standard(rgb), 1.0);
})";

// Columns: what one step right, one step down, and the corner are in stored coordinates. A turn shown clockwise by 90
// degrees (-90) puts the stored left edge on top.
std::array<float, 6> to_stored(int rotation_deg, bool flipped) {
    std::array<float, 6> m{1, 0, 0, 1, 0, 0};
    if (rotation_deg == -90) m = {0, -1, 1, 0, 0, 1};
    if (rotation_deg == 90) m = {0, 1, -1, 0, 1, 0};
    if (rotation_deg == 180) m = {-1, 0, 0, -1, 1, 1};
    if (flipped) m = {m[0], -m[1], m[2], -m[3], m[4], 1 - m[5]};
    return m;
}

}  // namespace

YuvProgram::YuvProgram() : program_(filling_program(fragment_text)) {
    glGenVertexArrays(1, &vertices_);
    glGenFramebuffers(1, &frame_);
    glGenTextures(1, &target_);
    glGenTextures(3, planes_.data());
    for (const unsigned int plane : planes_) {
        glBindTexture(GL_TEXTURE_2D, plane);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    }
}

YuvProgram::~YuvProgram() {
    glDeleteTextures(3, planes_.data());
    glDeleteTextures(1, &target_);
    glDeleteFramebuffers(1, &frame_);
    glDeleteVertexArrays(1, &vertices_);
    if (program_ != 0) glDeleteProgram(program_);
}

void YuvProgram::upload(const media::Picture& picture, int rotation_deg, bool flipped) {
    const bool deep = picture.bits > 8;
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    for (std::size_t i = 0; i < 3; ++i) {
        const media::Plane& plane = picture.planes[i];
        glBindTexture(GL_TEXTURE_2D, planes_[i]);
        glPixelStorei(GL_UNPACK_ROW_LENGTH, plane.stride_bytes / (deep ? 2 : 1));
        glTexImage2D(GL_TEXTURE_2D, 0, deep ? GL_R16 : GL_R8, plane.width, plane.height, 0, GL_RED,
                     deep ? GL_UNSIGNED_SHORT : GL_UNSIGNED_BYTE, plane.data);
    }
    glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    shape_ = picture;
    shape_.planes = {};
    shape_.storage.reset();
    rotation_deg_ = rotation_deg;
    flipped_ = flipped;
    changed_ = uploaded_ = true;
}

void YuvProgram::make_target(int width, int height) {
    width_ = width;
    height_ = height;
    draw_into(frame_, target_, width, height);
}

unsigned int YuvProgram::draw(int max_height) {
    if (!uploaded_ || !ready()) return 0;
    const bool lies = rotation_deg_ == 90 || rotation_deg_ == -90;
    const int full_w = lies ? shape_.height : shape_.width;
    const int full_h = lies ? shape_.width : shape_.height;
    const double shrink = std::min(1.0, static_cast<double>(std::max(16, max_height)) / full_h);
    const int w = std::max(1, static_cast<int>(std::lround(full_w * shrink)));
    const int h = std::max(1, static_cast<int>(std::lround(full_h * shrink)));
    if (w != width_ || h != height_) {
        make_target(w, h);
        changed_ = true;
    }
    if (!changed_) return target_;
    changed_ = false;
    glBindFramebuffer(GL_FRAMEBUFFER, frame_);
    glViewport(0, 0, w, h);
    glDisable(GL_BLEND);
    glDisable(GL_SCISSOR_TEST);
    glUseProgram(program_);
    constexpr std::array names{"plane_y", "plane_cb", "plane_cr"};
    for (std::size_t i = 0; i < 3; ++i) {
        glActiveTexture(GL_TEXTURE0 + static_cast<unsigned int>(i));
        glBindTexture(GL_TEXTURE_2D, planes_[i]);
        glUniform1i(glGetUniformLocation(program_, names[i]), static_cast<int>(i));
    }
    const media::YuvMatrix m = media::yuv_matrix(shape_.colour, shape_.bits);
    std::array<float, 9> rows{};
    for (std::size_t r = 0; r < 3; ++r)
        for (std::size_t c = 0; c < 3; ++c) rows[r * 3 + c] = static_cast<float>(m.rows[r][c]);
    glUniformMatrix3fv(glGetUniformLocation(program_, "matrix"), 1, GL_TRUE, rows.data());
    glUniform3f(glGetUniformLocation(program_, "offset"), static_cast<float>(m.offset[0]),
                static_cast<float>(m.offset[1]), static_cast<float>(m.offset[2]));
    glUniform1f(glGetUniformLocation(program_, "sample_scale"), shape_.bits > 8 ? 65535.0F / 1023.0F : 1.0F);
    glUniform1i(glGetUniformLocation(program_, "transfer"), static_cast<int>(shape_.colour.transfer));
    glUniform2f(glGetUniformLocation(program_, "size"), static_cast<float>(w), static_cast<float>(h));
    glUniformMatrix3x2fv(glGetUniformLocation(program_, "to_stored"), 1, GL_FALSE,
                         to_stored(rotation_deg_, flipped_).data());
    glUniform1i(glGetUniformLocation(program_, "taps"), shrink < 0.4 ? 3 : shrink < 0.75 ? 2 : 1);
    glBindVertexArray(vertices_);
    glDrawArrays(GL_TRIANGLES, 0, 3);
    glBindVertexArray(0);
    glActiveTexture(GL_TEXTURE0);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    return target_;
}

}  // namespace quarterturn::app::window
