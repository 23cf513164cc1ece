#include "app/layout.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::app {
namespace {

constexpr float bar_units = 46;
constexpr float tools_units = 92;
constexpr float transport_units = 50;
constexpr float ribbon_units = 128;
constexpr float gap_units = 10;

float whole(float value) {
    return std::floor(value);
}

Box message_box(const Box& under, float scale) {
    const float w = std::min(under.w - 2 * gap_units * scale, 620 * scale);
    const float h = std::min(under.h / 2, 150 * scale);
    return {whole(under.x + (under.w - w) / 2), whole(under.bottom() - h - gap_units * scale), w, h};
}

ClipLayout full_screen_layout(float width, float height, float scale) {
    ClipLayout layout;
    const float ribbon = whole(70 * scale);
    const float transport = whole(transport_units * scale);
    layout.stage = {0, 0, width, height - ribbon - transport};
    layout.transport = {0, layout.stage.bottom(), width, transport};
    layout.ribbon = {0, layout.transport.bottom(), width, ribbon};
    layout.messages = message_box(layout.stage, scale);
    return layout;
}

}  // namespace

ClipLayout clip_layout(float width, float height, float scale, bool full_screen) {
    if (full_screen) return full_screen_layout(width, height, scale);
    ClipLayout layout;
    const float gap = whole(gap_units * scale);
    const float bar = whole(bar_units * scale);
    const float ribbon = whole(std::clamp(height * 0.16F, 96 * scale, ribbon_units * scale));
    const float transport = whole(transport_units * scale);
    const float cards = whole(std::clamp(width * 0.40F, 400 * scale, 640 * scale));
    const float tools = whole(tools_units * scale);
    layout.bar = Box{0, 0, width, bar};

    const float lower = height - gap - ribbon;
    const float strip = whole(std::clamp(width * 0.30F, 300 * scale, 520 * scale));
    layout.ribbon = {gap, lower, width - 3 * gap - strip, ribbon};
    layout.strip = Box{width - gap - strip, lower, strip, ribbon};

    const float upper = bar + gap;
    const float middle = lower - gap - upper;
    layout.cards = Box{width - gap - cards, upper, cards, middle};
    layout.tools = Box{gap, upper, tools, middle};
    const float stage_left = layout.tools->right() + gap;
    const float stage_width = layout.cards->x - gap - stage_left;
    layout.stage = {stage_left, upper, stage_width, middle - transport};
    layout.transport = {stage_left, layout.stage.bottom(), stage_width, transport};
    layout.messages = message_box(layout.stage, scale);
    return layout;
}

PairLayout pair_layout(float width, float height, float scale, bool full_screen) {
    const ClipLayout clip = clip_layout(width, height, scale, full_screen);
    PairLayout layout{clip.bar, clip.tools, clip.stage, clip.transport, clip.cards, clip.ribbon, clip.messages};
    if (full_screen) {
        const float more = whole(30 * scale);  // two films need more height than one
        layout.stage.h -= more;
        layout.transport.y -= more;
        layout.ribbon.y -= more;
        layout.ribbon.h += more;
        layout.messages = message_box(layout.stage, scale);
        return layout;
    }
    layout.ribbon.w = width - 2 * layout.ribbon.x;
    return layout;
}

PageLayout page_layout(float width, float height, float scale) {
    const float bar = whole(bar_units * scale);
    PageLayout layout;
    layout.bar = {0, 0, width, bar};
    layout.page = {0, bar, width, height - bar};
    layout.messages = message_box(layout.page, scale);
    return layout;
}

Box fit(const Box& outer, double aspect) {
    if (outer.w <= 0 || outer.h <= 0 || aspect <= 0) return outer;
    const float ratio = static_cast<float>(aspect);
    float w = outer.w;
    float h = w / ratio;
    if (h > outer.h) {
        h = outer.h;
        w = h * ratio;
    }
    return {outer.x + (outer.w - w) / 2, outer.y + (outer.h - h) / 2, w, h};
}

}  // namespace quarterturn::app
