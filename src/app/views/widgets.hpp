#pragma once
/// The few pieces all views are made of.
#include "app/measured_mark.hpp"
#include "app/views/look.hpp"

namespace quarterturn::app::views {

enum class Icon {
    play,
    pause,
    next,
    previous,
    next_hold,
    previous_hold,
    repeat,
    skeleton,
    plumb,
    levels,
    silhouette,
    thirds,
    drawings,
    level,
    upright,
    angle,
    ring,
    arrow,
    stroke,
    mirror,
    undo,
    redo,
    to_do,
    done,
    close,
    plus,
    minus,
    sound,
    no_sound,
    whole
};
/// Draws an icon in a square of `size` pixels.
void draw_icon(ImDrawList& list, Icon icon, ImVec2 at, float size, ImU32 colour);

/// A disc with a nose that points where the athlete faces, seen from above with the judges below: 0 points down, +90
/// (left side to the judges) to the right. Without a direction: a plain disc.
void draw_turn_mark(ImDrawList& list, ImVec2 centre, float radius, std::optional<double> facing_deg, ImU32 line,
                    ImU32 fill);

/// A category's look: colour with its pattern.
void draw_block(ImDrawList& list, ImVec2 from, ImVec2 to, const CategoryLook& look, float scale);
void draw_note_dot(ImDrawList& list, ImVec2 centre, float radius, bool done);

/// Whether a clip is measured: a full disc, a disc that fills, three dots, a hollow ring, a half disc, a crossed ring.
void draw_measured_mark(ImDrawList& list, ImVec2 centre, float radius, MeasuredMark mark, double share, ImU32 colour);

/// A panel at a fixed place that holds widgets; draws its ground. Always followed by end_panel().
bool begin_panel(const char* name, const Box& box, ImU32 ground, float padding, ImGuiWindowFlags flags = 0);
void end_panel();

struct ButtonLook {
    std::optional<Icon> icon = std::nullopt;
    std::string text = {};
    std::string hint = {};  ///< shown when the pointer rests
    bool on = false;        ///< pressed in
    bool main = false;      ///< the one thing to do here
    bool quiet = false;     ///< no outline
    bool on_felt = false;
    float width = 0;  ///< 0: as wide as its text
    float height = 0;
    bool small = false;
};
/// @return true when pressed
bool button(const View& view, const char* id, const ButtonLook& look);

/// A hint with its key: "Next hold  (H)".
[[nodiscard]] std::string with_key(const std::string& text, const std::string& key);
void text_in(ImFont* font, ImU32 colour, const std::string& text);
/// Cut with "..." where it is wider than `width` pixels.
void text_cut(ImDrawList& list, ImFont* font, ImVec2 at, ImU32 colour, const std::string& text, float width);
[[nodiscard]] ImVec2 size_of(ImFont* font, const std::string& text);
void tip(const View& view, const std::string& text);
void gap(float pixels);

}  // namespace quarterturn::app::views
