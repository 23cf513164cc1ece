#include <cmath>

#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

// Pointer on the picture: draws with a tool in hand, else moves and zooms; a click plays or pauses.
void handle_pointer(const View& view, const PictureView& picture, const Box& box) {
    const Desk& desk = view.state.desk;
    const ImGuiIO& io = ImGui::GetIO();
    const double aspect = view.state.clip->aspect();
    ImGui::SetCursorScreenPos(corner(box));
    ImGui::InvisibleButton("picture", {box.w, box.h},
                           ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonMiddle);
    const ScreenSpot at{io.MousePos.x, io.MousePos.y};
    if (ImGui::IsItemHovered() && io.MouseWheel != 0) {
        const double by = std::pow(1.15, static_cast<double>(io.MouseWheel));
        view.ask(SetZooming{zoomed(desk.zooming, box, aspect, by, at)});
    }
    if (desk.athlete_aim) {
        if (ImGui::IsItemActivated()) view.ask(ShowAthlete{picture.to_picture(at)});
        return;
    }
    if (desk.tool) {
        const Spot spot = picture.to_picture(at);
        if (ImGui::IsItemHovered()) ImGui::SetMouseCursor(ImGuiMouseCursor_None);
        if (ImGui::IsItemActivated())
            view.ask(DrawPoint{spot});
        else if (ImGui::IsItemActive())
            view.ask(DrawOn{spot});
        if (ImGui::IsItemDeactivated()) view.ask(DrawEnd{});
        return;
    }
    const bool moved =
        ImGui::IsMouseDragging(ImGuiMouseButton_Left, 4) || ImGui::IsMouseDragging(ImGuiMouseButton_Middle, 0);
    if (ImGui::IsItemActive() && moved && (io.MouseDelta.x != 0 || io.MouseDelta.y != 0))
        view.ask(SetZooming{panned(desk.zooming, box, aspect, io.MouseDelta.x, io.MouseDelta.y)});
    const ImVec2 way = ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 0);
    if (ImGui::IsItemDeactivated() && ImGui::IsItemHovered() && std::abs(way.x) + std::abs(way.y) < 4)
        view.ask(TogglePlay{});
}

void draw_cross(const View& view, ImVec2 at, float r) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    for (const auto& [colour, width] : {std::pair{IM_COL32_BLACK, 3.0F}, std::pair{ink(view.colours.on_felt), 1.3F}}) {
        list.AddLine({at.x - r, at.y}, {at.x + r, at.y}, colour, width * view.scale);
        list.AddLine({at.x, at.y - r}, {at.x, at.y + r}, colour, width * view.scale);
    }
}

void draw_pointer(const View& view, const Box& box) {
    const ImVec2 at = ImGui::GetIO().MousePos;
    if (view.state.desk.tool && box.contains(at.x, at.y)) draw_cross(view, at, view.px(9));
}

void draw_line_on_felt(const View& view, const Box& box, const std::string& text) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    ImFont* font = view.fonts.small;
    const float wrap = box.w - view.px(36);
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6F, wrap, text.c_str());
    const ImVec2 from{box.x + view.px(10), box.y + view.px(10)};
    list.AddRectFilled(from, {from.x + size.x + view.px(16), from.y + size.y + view.px(10)},
                       ink(view.colours.felt, 0.9F), view.px(4));
    list.AddText(font, font->FontSize, {from.x + view.px(8), from.y + view.px(5)}, ink(view.colours.on_felt),
                 text.c_str(), nullptr, wrap);
}

// Who the athlete is: where she was shown before, and the cross that keys move.
void draw_athlete(const View& view, const PictureView& picture, const Box& box) {
    const ReviewState& state = view.state;
    if (!state.desk.athlete_aim) return;
    const auto& known = state.clip->filmed.athlete_at;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (known && known->pts == state.playing.pts) {
        const ScreenSpot at = picture.to_screen({known->x, known->y});
        list.AddCircle({at.x, at.y}, view.px(15), IM_COL32_BLACK, 32, view.px(5));
        list.AddCircle({at.x, at.y}, view.px(15), ink(okabe_ito::yellow), 32, view.px(2.5F));
    }
    const ScreenSpot cross = picture.to_screen(*state.desk.athlete_aim);
    draw_cross(view, {cross.x, cross.y}, view.px(14));
    draw_line_on_felt(view, box,
                      "Press on the athlete's body, or move the cross with " + view.hint(Action::previous_picture) +
                          ", " + view.hint(Action::next_picture) + ", " + view.hint(Action::previous_hold) + ", " +
                          view.hint(Action::next_hold) + " and press " + view.hint(Action::play_or_pause) + ". " +
                          view.hint(Action::leave) + " leaves it as it is.");
}

// The words of notes whose moment is on screen, at the lower edge of the picture.
void draw_captions(const View& view, const Box& box) {
    const ReviewState& state = view.state;
    if (!state.library || !state.desk.overlays.drawings) return;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    ImFont* font = view.fonts.text;
    float bottom = box.bottom() - view.px(10);
    int shown = 0;
    for (const auto* note : state.library->notes_of_clip(state.clip->fingerprint)) {
        if (!note->moment || shown == 3) continue;
        const double at = state.clip->seconds_of(state.playing.pts);
        const double from = state.clip->seconds_of(note->moment->start_pts);
        const double to = note->moment->end_pts ? state.clip->seconds_of(*note->moment->end_pts) : from + 0.5;
        if (at < from - 0.5 || at > to) continue;
        const float wrap = std::min(box.w - view.px(60), view.px(420));
        const std::string text = shortened(note->text, 160);
        const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6F, wrap, text.c_str());
        const ImVec2 from_px{box.x + (box.w - size.x) / 2 - view.px(22), bottom - size.y - view.px(10)};
        list.AddRectFilled(from_px, {from_px.x + size.x + view.px(34), bottom}, ink(view.colours.felt, 0.88F),
                           view.px(5));
        draw_note_dot(list, {from_px.x + view.px(13), from_px.y + view.px(14)}, view.px(5), note->done);
        list.AddText(font, font->FontSize, {from_px.x + view.px(25), from_px.y + view.px(5)}, ink(view.colours.on_felt),
                     text.c_str(), nullptr, wrap);
        bottom = from_px.y - view.px(6);
        ++shown;
    }
}

}  // namespace

void draw_stage(const View& view, const Box& box) {
    const Desk& desk = view.state.desk;
    begin_panel("stage", box, ink(view.colours.felt), 0, ImGuiWindowFlags_NoScrollWithMouse);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const PictureView picture(box, view.state.clip->aspect(), desk.zooming);
    list.PushClipRect(corner(box), far_corner(box), true);
    if (view.film != nullptr) {
        const auto c = picture.corners();
        list.AddImageQuad(view.film, {c[0].x, c[0].y}, {c[1].x, c[1].y}, {c[2].x, c[2].y}, {c[3].x, c[3].y});
    } else {
        const std::string text = "Reading the picture";
        const ImVec2 size = size_of(view.fonts.text, text);
        list.AddText(view.fonts.text, view.fonts.text->FontSize,
                     {box.x + (box.w - size.x) / 2, box.y + (box.h - size.y) / 2}, ink(view.colours.soft_on_felt),
                     text.c_str());
    }
    draw_overlays(view, picture, box);
    if (desk.overlays.drawings) draw_drawings(view, picture, box);
    draw_captions(view, box);
    handle_pointer(view, picture, box);
    draw_pointer(view, box);
    draw_athlete(view, picture, box);
    if (desk.zooming.factor > 1.001) {
        const std::string text = "Zoom " + speed_text(desk.zooming.factor);
        list.AddText(view.fonts.small, view.fonts.small->FontSize, {box.x + view.px(10), box.y + view.px(8)},
                     ink(view.colours.on_felt), text.c_str());
    }
    list.PopClipRect();
    end_panel();
}

}  // namespace quarterturn::app::views
