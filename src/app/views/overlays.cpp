#include <fmt/format.h>

#include <cmath>

#include "app/joints.hpp"
#include "app/views/widgets.hpp"

namespace quarterturn::app::views {
namespace {

// Every line over the picture has a dark border, so that it shows on any picture.
struct Liner {
    const View& view;
    const PictureView& picture;
    ImDrawList& list;
    [[nodiscard]] ImVec2 at(Spot spot) const {
        const ScreenSpot s = picture.to_screen(spot);
        return {s.x, s.y};
    }
    void line(ImVec2 a, ImVec2 b, Rgb colour, float width = 2) const {
        list.AddLine(a, b, IM_COL32(0, 0, 0, 170), view.px(width + 2));
        list.AddLine(a, b, ink(colour), view.px(width));
    }
    void label(ImVec2 at_px, const std::string& text) const {
        const ImVec2 size = size_of(view.fonts.small, text);
        list.AddRectFilled({at_px.x - view.px(4), at_px.y - view.px(2)},
                           {at_px.x + size.x + view.px(4), at_px.y + size.y + view.px(2)},
                           ink(view.colours.felt, 0.85F), view.px(3));
        list.AddText(view.fonts.small, view.fonts.small->FontSize, at_px, ink(view.colours.on_felt), text.c_str());
    }
};

void skeleton(const Liner& pen, const std::vector<NamedSpot>& joints) {
    for (const auto& [from, to] : bones()) {
        const auto* a = find_joint(joints, from);
        const auto* b = find_joint(joints, to);
        if (a == nullptr || b == nullptr) continue;
        // The athlete's left side in one colour and with round joints, the right in another with square ones.
        const bool left = from.starts_with("left") && to.starts_with("left");
        const bool right = from.starts_with("right") && to.starts_with("right");
        pen.line(pen.at(a->spot), pen.at(b->spot),
                 left    ? okabe_ito::sky_blue
                 : right ? okabe_ito::orange
                         : Rgb{240, 240, 240});
    }
    for (const NamedSpot& joint : joints) {
        const ImVec2 p = pen.at(joint.spot);
        const float r = pen.view.px(3.5F);
        if (joint.name.starts_with("right"))
            pen.list.AddRectFilled({p.x - r, p.y - r}, {p.x + r, p.y + r}, ink(okabe_ito::orange));
        else
            pen.list.AddCircleFilled(
                p, r, ink(joint.name.starts_with("left") ? okabe_ito::sky_blue : Rgb{240, 240, 240}), 12);
    }
}

void plumb_line(const Liner& pen, const std::vector<NamedSpot>& joints, const Box& box) {
    const auto* left = find_joint(joints, "left_ankle");
    const auto* right = find_joint(joints, "right_ankle");
    if (left == nullptr || right == nullptr) return;
    const Spot between{(left->spot.x + right->spot.x) / 2, std::max(left->spot.y, right->spot.y)};
    const ImVec2 foot = pen.at(between);
    pen.line({foot.x, box.y}, foot, okabe_ito::yellow, 1.5F);
    pen.list.AddTriangleFilled({foot.x - pen.view.px(6), foot.y}, {foot.x + pen.view.px(6), foot.y},
                               {foot.x, foot.y + pen.view.px(11)}, ink(okabe_ito::yellow));
}

// From the side the two joints lie behind each other, and the slope between them says nothing about the body.
bool wide_enough(const std::vector<NamedSpot>& joints, const NamedSpot& a, const NamedSpot& b, double aspect) {
    double top = 1, bottom = 0;
    for (const NamedSpot& joint : joints) top = std::min(top, joint.spot.y), bottom = std::max(bottom, joint.spot.y);
    constexpr double least = 0.08;  // of the height between the highest and the lowest joint
    return std::abs(a.spot.x - b.spot.x) * aspect >= least * (bottom - top);
}

// Against the upright of the room, as far as the person set it.
void level(const Liner& pen, const std::vector<NamedSpot>& joints, const char* a, const char* b, double aspect) {
    const auto* one = find_joint(joints, a);
    const auto* other = find_joint(joints, b);
    const auto tilt = tilt_deg(one, other, aspect);
    if (!tilt || !wide_enough(joints, *one, *other, aspect)) return;
    ImVec2 p = pen.at(one->spot), q = pen.at(other->spot);
    if (p.x > q.x) std::swap(p, q);
    const float beyond = (q.x - p.x) * 0.35F;
    const float slope = q.x - p.x > 1 ? (q.y - p.y) / (q.x - p.x) : 0;
    pen.line({p.x - beyond, p.y - beyond * slope}, {q.x + beyond, q.y + beyond * slope}, okabe_ito::green, 2);
    pen.label({q.x + beyond + pen.view.px(6), q.y + beyond * slope - pen.view.px(7)},
              fmt::format("{:.1f}°", std::abs(*tilt + pen.view.state.desk.zooming.tilt_deg)));
}

void thirds(const Liner& pen) {
    const Box& box = pen.picture.picture();
    for (const float third : {1.0F / 3, 2.0F / 3}) {
        const float x = box.x + third * box.w, y = box.y + third * box.h;
        pen.line({x, box.y}, {x, box.bottom()}, {235, 235, 235}, 1);
        pen.line({box.x, y}, {box.right(), y}, {235, 235, 235}, 1);
    }
}

void outline(const Liner& pen, const Outline& found) {
    for (const auto& [a, b] : found.pieces)
        pen.list.AddLine(pen.at(a), pen.at(b), IM_COL32(0, 0, 0, 170), pen.view.px(4));
    for (const auto& [a, b] : found.pieces)
        pen.list.AddLine(pen.at(a), pen.at(b), ink(okabe_ito::purple), pen.view.px(2));
}

// It takes a moment to find, so that it belongs to a picture that stands still.
void outline_or_why(const Liner& pen, const Box& box) {
    const ReviewState& state = pen.view.state;
    const auto& found = state.clip->outline;
    const bool here = found && found->pts == state.playing.pts;
    if (here && !found->pieces.empty()) return outline(pen, *found);
    const std::string why = state.playing.running ? "The outline shows when the film stands still."
                            : here                ? found->reason
                                                  : "Finding the outline...";
    pen.label({box.x + pen.view.px(12), box.bottom() - pen.view.px(26)}, why);
}

}  // namespace

void draw_overlays(const View& view, const PictureView& picture, const Box& box) {
    const Overlays& on = view.state.desk.overlays;
    const OpenClip& clip = *view.state.clip;
    const Liner pen{view, picture, *ImGui::GetWindowDrawList()};
    if (on.thirds) thirds(pen);
    const bool wants_joints = on.skeleton || on.plumb_line || on.levels;
    const bool hidden = view.state.library && view.state.library->athlete.hide_body_numbers;
    if (on.silhouette && !hidden) outline_or_why(pen, box);
    if (!wants_joints) return;
    const auto joints = joints_at(clip, view.state.playing.pts);
    if (joints.empty()) {
        const std::string why =
            clip.joints ? "Nobody was found in this picture." : "Measure this clip with body landmarks to see this.";
        pen.label({box.x + view.px(12), box.y + view.px(28)}, why);
        return;
    }
    if (on.skeleton) skeleton(pen, joints);
    if (on.plumb_line) plumb_line(pen, joints, box);
    if (on.levels) {
        level(pen, joints, "left_shoulder", "right_shoulder", clip.aspect());
        level(pen, joints, "left_hip", "right_hip", clip.aspect());
    }
}

}  // namespace quarterturn::app::views
