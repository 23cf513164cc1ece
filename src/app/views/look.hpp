#pragma once
/// What every view gets: colours, fonts, the state to draw, and where to put commands.
#include <imgui.h>

#include <functional>
#include <string>

#include "app/cards.hpp"
#include "app/command.hpp"
#include "app/layout.hpp"
#include "app/palette.hpp"
#include "app/state.hpp"

namespace quarterturn::app::views {

struct Fonts {
    ImFont* text = nullptr;
    ImFont* bold = nullptr;
    ImFont* small = nullptr;
    ImFont* big = nullptr;
};

/// Text boxes' contents and such: what the library that draws needs to write to. Nothing that would be missed.
struct Scratch {
    std::string note_id, note_text;
    bool note_fresh = false;
    std::string search;
    std::string path, demo_path, library_path, library_title;
    std::string season_title, season_date;
    int season_rules = 0;
    std::string session_id, session_date;
    std::string key_filter, author;
    std::optional<double> time_scale;    ///< being typed
    std::string seen_clip, seen_target;  ///< the library's lists have been scrolled to them
    bool card_moved = false;             ///< the open card has been scrolled to
    std::string seen_card;
    std::size_t span_menu = 0;
    std::size_t seen_pair = 0;  ///< the table has been scrolled to its top for it
};

struct View {
    const ReviewState& state;
    Commands& out;
    const Palette& colours;
    const Fonts& fonts;
    float scale;
    Scratch& scratch;
    ImTextureID film = nullptr;  ///< the picture on screen, upright; nullptr while there is none
    /// The small still of a pose's hold, upright; 0 while it is not there. Gives the size in pixels.
    std::function<ImTextureID(std::int64_t pts, ImVec2& size)> still;
    const std::vector<Card>& cards;
    /// The two takes' pictures in the frame of this season's one, mirrored back; nullptr while there is none.
    ImTextureID pair_now = nullptr, pair_before = nullptr;

    [[nodiscard]] float px(float units) const { return units * scale; }
    void ask(Command command) const { out.push_back(std::move(command)); }
    [[nodiscard]] std::string hint(Action action) const { return state.keymap.hint(action); }
};

[[nodiscard]] ImU32 ink(Rgb colour, float opacity = 1);
[[nodiscard]] ImVec4 ink4(Rgb colour, float opacity = 1);
[[nodiscard]] inline ImVec2 corner(const Box& box) {
    return {box.x, box.y};
}
[[nodiscard]] inline ImVec2 far_corner(const Box& box) {
    return {box.right(), box.bottom()};
}

// One function per file of this folder.
void draw_bar(const View& view, const Box& box);
void draw_stage(const View& view, const Box& box);
void draw_overlays(const View& view, const PictureView& picture, const Box& box);
void draw_drawings(const View& view, const PictureView& picture, const Box& box);
void draw_tools(const View& view, const Box& box);
void draw_transport(const View& view, const Box& box);
void draw_cards(const View& view, const Box& box);
void draw_card_notes(const View& view, const Card& card, float width);
void draw_card_checklist(const View& view, const Card& card, float width);
/// Inside the cards' column.
void draw_filmed(const View& view, float width);
void draw_ribbon(const View& view, const Box& box);
/// How a measured segment stands on a ribbon.
[[nodiscard]] Category category_of(posing::SegmentKind kind);
void draw_strip(const View& view, const Box& box);
void draw_library(const View& view, const Box& box);
void draw_session(const View& view, const journal::Season& season, const journal::Session& session, float width);
void draw_start(const View& view, const Box& box);
void draw_keys(const View& view, const Box& box);
void draw_pair_tools(const View& view, const Box& box);
void draw_pair_stage(const View& view, const Box& box);
void draw_pair_transport(const View& view, const Box& box);
void draw_pair_ribbon(const View& view, const Box& box);
void draw_pair_table(const View& view, const Box& box);
void draw_pair_choice(const View& view, float width);
void draw_settings(const View& view, const Box& box);
void draw_messages(const View& view, const Box& box);

/// The whole window.
void draw_everything(const View& view, float width, float height);

/// The library's own widgets in our colours and sizes.
void dress(ImGuiStyle& style, const Palette& colours, float scale);

}  // namespace quarterturn::app::views
