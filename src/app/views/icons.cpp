#include <algorithm>

#include "app/views/widgets.hpp"

namespace quarterturn::app::views {
namespace {

// A square of 1 by 1 to draw in.
struct Pen {
    ImDrawList& list;
    ImVec2 at;
    float size;
    ImU32 colour;
    [[nodiscard]] ImVec2 p(float x, float y) const { return {at.x + x * size, at.y + y * size}; }
    [[nodiscard]] float width() const { return std::max(1.2F, size * 0.09F); }
    void line(float x1, float y1, float x2, float y2) const { list.AddLine(p(x1, y1), p(x2, y2), colour, width()); }
    void dot(float x, float y, float r) const { list.AddCircleFilled(p(x, y), r * size, colour, 16); }
    void ring(float x, float y, float r) const { list.AddCircle(p(x, y), r * size, colour, 24, width()); }
    void triangle(float x1, float y1, float x2, float y2, float x3, float y3) const {
        list.AddTriangleFilled(p(x1, y1), p(x2, y2), p(x3, y3), colour);
    }
    void box(float x1, float y1, float x2, float y2) const { list.AddRectFilled(p(x1, y1), p(x2, y2), colour); }
    void frame(float x1, float y1, float x2, float y2) const {
        list.AddRect(p(x1, y1), p(x2, y2), colour, 0, 0, width());
    }
};

void figure(const Pen& pen) {
    pen.dot(0.5F, 0.16F, 0.11F);
    pen.line(0.5F, 0.25F, 0.5F, 0.6F);
    pen.line(0.22F, 0.5F, 0.5F, 0.32F);
    pen.line(0.78F, 0.5F, 0.5F, 0.32F);
    pen.line(0.5F, 0.6F, 0.32F, 0.95F);
    pen.line(0.5F, 0.6F, 0.68F, 0.95F);
}

void turn_arrow(const Pen& pen, bool back) {
    const auto x = [&](float value) { return back ? value : 1 - value; };
    pen.list.PathClear();
    pen.list.PathLineTo(pen.p(x(0.2F), 0.42F));
    pen.list.PathBezierCubicCurveTo(pen.p(x(0.5F), 0.25F), pen.p(x(0.95F), 0.35F), pen.p(x(0.8F), 0.85F));
    pen.list.PathStroke(pen.colour, 0, pen.width());
    pen.triangle(x(0.05F), 0.45F, x(0.36F), 0.2F, x(0.38F), 0.62F);
}

void playing_icon(const Pen& pen, Icon icon) {
    switch (icon) {
        case Icon::play:
            pen.triangle(0.2F, 0.1F, 0.2F, 0.9F, 0.9F, 0.5F);
            break;
        case Icon::pause:
            pen.box(0.2F, 0.12F, 0.42F, 0.88F), pen.box(0.58F, 0.12F, 0.8F, 0.88F);
            break;
        case Icon::next:
            pen.line(0.3F, 0.2F, 0.65F, 0.5F), pen.line(0.65F, 0.5F, 0.3F, 0.8F);
            break;
        case Icon::previous:
            pen.line(0.7F, 0.2F, 0.35F, 0.5F), pen.line(0.35F, 0.5F, 0.7F, 0.8F);
            break;
        case Icon::next_hold:
            pen.line(0.1F, 0.5F, 0.5F, 0.5F), pen.triangle(0.35F, 0.3F, 0.35F, 0.7F, 0.6F, 0.5F),
                pen.box(0.65F, 0.2F, 0.92F, 0.8F);
            break;
        case Icon::previous_hold:
            pen.line(0.9F, 0.5F, 0.5F, 0.5F), pen.triangle(0.65F, 0.3F, 0.65F, 0.7F, 0.4F, 0.5F),
                pen.box(0.08F, 0.2F, 0.35F, 0.8F);
            break;
        case Icon::repeat:
            pen.list.AddRect(pen.p(0.12F, 0.25F), pen.p(0.88F, 0.75F), pen.colour, pen.size * 0.25F, 0, pen.width());
            pen.triangle(0.45F, 0.08F, 0.45F, 0.42F, 0.68F, 0.25F);
            break;
        case Icon::sound:
        case Icon::no_sound:
            pen.box(0.1F, 0.38F, 0.3F, 0.62F), pen.triangle(0.2F, 0.5F, 0.5F, 0.2F, 0.5F, 0.8F);
            if (icon == Icon::sound)
                pen.line(0.62F, 0.35F, 0.62F, 0.65F), pen.line(0.76F, 0.25F, 0.76F, 0.75F);
            else
                pen.line(0.62F, 0.4F, 0.85F, 0.62F), pen.line(0.85F, 0.4F, 0.62F, 0.62F);
            break;
        default:
            break;
    }
}

void looking_icon(const Pen& pen, Icon icon) {
    switch (icon) {
        case Icon::skeleton:
            figure(pen);
            break;
        case Icon::plumb:
            pen.line(0.5F, 0.05F, 0.5F, 0.7F), pen.triangle(0.35F, 0.68F, 0.65F, 0.68F, 0.5F, 0.97F);
            break;
        case Icon::levels:
            pen.line(0.1F, 0.3F, 0.9F, 0.3F), pen.line(0.2F, 0.7F, 0.8F, 0.7F), pen.dot(0.1F, 0.3F, 0.09F),
                pen.dot(0.9F, 0.3F, 0.09F), pen.dot(0.2F, 0.7F, 0.09F), pen.dot(0.8F, 0.7F, 0.09F);
            break;
        case Icon::silhouette:
            pen.dot(0.5F, 0.18F, 0.14F), pen.triangle(0.2F, 0.35F, 0.8F, 0.35F, 0.5F, 0.75F),
                pen.box(0.38F, 0.5F, 0.62F, 0.96F);
            break;
        case Icon::thirds:
            pen.frame(0.08F, 0.08F, 0.92F, 0.92F), pen.line(0.36F, 0.08F, 0.36F, 0.92F),
                pen.line(0.64F, 0.08F, 0.64F, 0.92F), pen.line(0.08F, 0.36F, 0.92F, 0.36F),
                pen.line(0.08F, 0.64F, 0.92F, 0.64F);
            break;
        case Icon::drawings:
            pen.line(0.15F, 0.85F, 0.75F, 0.25F), pen.triangle(0.08F, 0.92F, 0.12F, 0.72F, 0.28F, 0.88F),
                pen.ring(0.78F, 0.22F, 0.1F);
            break;
        case Icon::mirror:
            pen.line(0.5F, 0.05F, 0.5F, 0.95F), pen.triangle(0.4F, 0.25F, 0.4F, 0.75F, 0.05F, 0.5F),
                pen.line(0.6F, 0.25F, 0.95F, 0.5F), pen.line(0.95F, 0.5F, 0.6F, 0.75F),
                pen.line(0.6F, 0.25F, 0.6F, 0.75F);
            break;
        case Icon::level:
            pen.line(0.05F, 0.5F, 0.95F, 0.5F), pen.line(0.05F, 0.38F, 0.05F, 0.62F),
                pen.line(0.95F, 0.38F, 0.95F, 0.62F);
            break;
        case Icon::upright:
            pen.line(0.5F, 0.05F, 0.5F, 0.95F), pen.line(0.38F, 0.05F, 0.62F, 0.05F),
                pen.line(0.38F, 0.95F, 0.62F, 0.95F);
            break;
        case Icon::angle:
            pen.line(0.15F, 0.85F, 0.9F, 0.85F), pen.line(0.15F, 0.85F, 0.7F, 0.2F),
                pen.list.PathArcTo(pen.p(0.15F, 0.85F), pen.size * 0.45F, -0.87F, 0, 12),
                pen.list.PathStroke(pen.colour, 0, pen.width());
            break;
        case Icon::ring:
            pen.ring(0.5F, 0.5F, 0.38F);
            break;
        case Icon::arrow:
            pen.line(0.12F, 0.88F, 0.7F, 0.3F), pen.triangle(0.9F, 0.1F, 0.48F, 0.26F, 0.74F, 0.52F);
            break;
        case Icon::stroke:
            pen.list.AddBezierCubic(pen.p(0.08F, 0.8F), pen.p(0.4F, -0.1F), pen.p(0.55F, 1.2F), pen.p(0.92F, 0.2F),
                                    pen.colour, pen.width());
            break;
        default:
            break;
    }
}

}  // namespace

void draw_icon(ImDrawList& list, Icon icon, ImVec2 at, float size, ImU32 colour) {
    const Pen pen{list, at, size, colour};
    switch (icon) {
        case Icon::undo:
            turn_arrow(pen, true);
            break;
        case Icon::redo:
            turn_arrow(pen, false);
            break;
        case Icon::to_do:
            pen.triangle(0.08F, 0.18F, 0.92F, 0.18F, 0.5F, 0.92F);
            break;
        case Icon::done:
            pen.line(0.12F, 0.55F, 0.4F, 0.82F), pen.line(0.4F, 0.82F, 0.9F, 0.2F);
            break;
        case Icon::close:
            pen.line(0.2F, 0.2F, 0.8F, 0.8F), pen.line(0.8F, 0.2F, 0.2F, 0.8F);
            break;
        case Icon::whole:
            pen.frame(0.2F, 0.05F, 0.8F, 0.95F);
            pen.line(0.36F, 0.5F, 0.64F, 0.5F);
            pen.line(0.5F, 0.3F, 0.5F, 0.7F);
            break;
        case Icon::plus:
            pen.line(0.5F, 0.12F, 0.5F, 0.88F), pen.line(0.12F, 0.5F, 0.88F, 0.5F);
            break;
        case Icon::minus:
            pen.line(0.12F, 0.5F, 0.88F, 0.5F);
            break;
        default:
            playing_icon(pen, icon);
            looking_icon(pen, icon);
    }
}

}  // namespace quarterturn::app::views
