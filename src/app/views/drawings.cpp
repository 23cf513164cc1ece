#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/joints.hpp"
#include "app/views/widgets.hpp"

namespace quarterturn::app::views {
namespace {

struct Chalk {
    const View& view;
    const PictureView& picture;
    ImDrawList& list;
    Box box;
    [[nodiscard]] ImVec2 at(Spot spot) const {
        const ScreenSpot s = picture.to_screen(spot);
        return {s.x, s.y};
    }
    void line(ImVec2 a, ImVec2 b) const {
        list.AddLine(a, b, IM_COL32(0, 0, 0, 190), view.px(5));
        list.AddLine(a, b, ink(okabe_ito::yellow), view.px(2.5F));
    }
};

void angle(const Chalk& chalk, const Drawing& drawing) {
    const auto& p = drawing.points;
    for (std::size_t i = 0; i + 1 < p.size(); ++i) chalk.line(chalk.at(p[i]), chalk.at(p[i + 1]));
    if (p.size() < 3) return;
    const auto degrees = angle_at(p[0], p[1], p[2], chalk.view.state.clip->aspect());
    if (!degrees) return;
    const ImVec2 place = chalk.at(p[1]);
    const std::string text = fmt::format("{:.0f}°", *degrees);
    ImFont* font = chalk.view.fonts.bold;
    const ImVec2 size = size_of(font, text);
    const ImVec2 from{place.x + chalk.view.px(12), place.y - size.y / 2};
    chalk.list.AddRectFilled({from.x - chalk.view.px(5), from.y - 2},
                             {from.x + size.x + chalk.view.px(5), from.y + size.y + 2},
                             ink(chalk.view.colours.felt, 0.9F), chalk.view.px(3));
    chalk.list.AddText(font, font->FontSize, from, ink(okabe_ito::yellow), text.c_str());
}

void arrow(const Chalk& chalk, ImVec2 tail, ImVec2 head) {
    chalk.line(tail, head);
    const float dx = head.x - tail.x, dy = head.y - tail.y;
    const float length = std::sqrt(dx * dx + dy * dy);
    if (length < 1) return;
    const float size = chalk.view.px(14);
    const ImVec2 u{dx / length * size, dy / length * size};
    const ImVec2 a{head.x - u.x - u.y * 0.55F, head.y - u.y + u.x * 0.55F},
        b{head.x - u.x + u.y * 0.55F, head.y - u.y - u.x * 0.55F};
    chalk.list.AddTriangleFilled(head, a, b, ink(okabe_ito::yellow));
    chalk.list.AddTriangle(head, a, b, IM_COL32(0, 0, 0, 190), chalk.view.scale);
}

/// The box round the picture, which may be tilted.
Box bounds(const PictureView& picture) {
    const auto c = picture.corners();
    const auto [left, right] = std::minmax({c[0].x, c[1].x, c[2].x, c[3].x});
    const auto [top, bottom] = std::minmax({c[0].y, c[1].y, c[2].y, c[3].y});
    return {left, top, right - left, bottom - top};
}

void draw_one(const Chalk& chalk, const Drawing& drawing) {
    const auto& p = drawing.points;
    if (p.empty()) return;
    const ImVec2 first = chalk.at(p[0]);
    const Box whole = bounds(chalk.picture);
    switch (drawing.kind) {
        case DrawingKind::level:
            chalk.line({whole.x, first.y}, {whole.right(), first.y});
            break;
        case DrawingKind::upright:
            chalk.line({first.x, whole.y}, {first.x, whole.bottom()});
            break;
        case DrawingKind::angle:
            angle(chalk, drawing);
            break;
        case DrawingKind::ring: {
            if (p.size() < 2) break;
            const ImVec2 edge = chalk.at(p[1]);
            const float r = std::hypot(edge.x - first.x, edge.y - first.y);
            chalk.list.AddCircle(first, r, IM_COL32(0, 0, 0, 190), 64, chalk.view.px(5));
            chalk.list.AddCircle(first, r, ink(okabe_ito::yellow), 64, chalk.view.px(2.5F));
            break;
        }
        case DrawingKind::arrow:
            if (p.size() >= 2) arrow(chalk, first, chalk.at(p[1]));
            break;
        case DrawingKind::stroke:
            for (std::size_t i = 0; i + 1 < p.size(); ++i) chalk.line(chalk.at(p[i]), chalk.at(p[i + 1]));
            break;
    }
}

}  // namespace

void draw_drawings(const View& view, const PictureView& picture, const Box& box) {
    const ReviewState& state = view.state;
    const Chalk chalk{view, picture, *ImGui::GetWindowDrawList(), box};
    const auto joints = joints_at(*state.clip, state.playing.pts);
    if (state.library)
        for (const auto* note : state.library->notes_of_clip(state.clip->fingerprint)) {
            if (!note_is_on_screen(*state.clip, *note, state.playing.pts)) continue;
            for (const std::string& text : note->drawings)
                if (const auto drawing = read_drawing(text)) draw_one(chalk, following_joints(*drawing, joints));
        }
    if (!state.desk.tool || state.desk.started.empty()) return;
    Drawing started{*state.desk.tool, state.desk.started, {}};
    // The arm being drawn follows the pointer.
    if (*state.desk.tool == DrawingKind::angle) {
        const ImVec2 at = ImGui::GetIO().MousePos;
        started.points.push_back(picture.to_picture({at.x, at.y}));
    }
    draw_one(chalk, started);
}

}  // namespace quarterturn::app::views
