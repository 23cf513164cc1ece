#pragma once
/// Where things are in the window: rectangles in pixels from the window's size and the scale. No overlap, nothing
/// outside, whatever the size from 960x600 on (tested).
#include <optional>

namespace quarterturn::app {

struct Box {
    float x = 0, y = 0, w = 0, h = 0;
    [[nodiscard]] float right() const { return x + w; }
    [[nodiscard]] float bottom() const { return y + h; }
    [[nodiscard]] bool contains(float px, float py) const {
        return px >= x && py >= y && px < right() && py < bottom();
    }
    bool operator==(const Box&) const = default;
};

/// The screen for one clip. Absent parts are hidden in full screen.
struct ClipLayout {
    std::optional<Box> bar;    ///< what is open, undo, redo, the other places
    Box stage;                 ///< the picture
    std::optional<Box> tools;  ///< overlays and drawing tools, a narrow column left of the picture
    Box transport;             ///< play, step, speed, loop
    std::optional<Box> cards;  ///< the poses in call order
    Box ribbon;                ///< time
    std::optional<Box> strip;  ///< sway and twist of the chosen hold
    Box messages;              ///< lies over the lower part of the stage; nothing else is drawn there
};

/// @param scale  pixels per design unit, 0.75 .. 4
[[nodiscard]] ClipLayout clip_layout(float width, float height, float scale, bool full_screen);

/// The screen for two takes side by side. Absent parts are hidden in full screen.
struct PairLayout {
    std::optional<Box> bar;
    std::optional<Box> tools;  ///< ways of looking, a narrow column left of the pictures
    Box stage;                 ///< the pictures
    Box transport;
    std::optional<Box> table;  ///< pairs and differences
    Box ribbon;                ///< both films' time, one above the other
    Box messages;
};
[[nodiscard]] PairLayout pair_layout(float width, float height, float scale, bool full_screen);

/// The bar and the one page below it, for the other places.
struct PageLayout {
    Box bar;
    Box page;
    Box messages;
};
[[nodiscard]] PageLayout page_layout(float width, float height, float scale);

/// The largest box of the aspect (width over height) inside `outer`, centred.
[[nodiscard]] Box fit(const Box& outer, double aspect);

}  // namespace quarterturn::app
