#include <fmt/format.h>

#include <cmath>

#include "app/body_outline.hpp"
#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

struct Stage {
    const View& view;
    const PairDesk& desk;
    ImDrawList& list;
    double aspect;
    Zooming zooming;  ///< with the tilt of this season's film: the room stands upright

    void now_picture(const PictureView& at) const { picture(at, view.pair_now, desk.now_clip().mirrored, 1); }
    // It lies in the other's frame, mirrored back already.
    void earlier_picture(const PictureView& at, float opacity = 1) const {
        picture(at, view.pair_before, false, opacity);
    }
    void picture(const PictureView& at, ImTextureID texture, bool swapped, float opacity) const {
        if (texture == nullptr) return;
        const auto c = at.corners();
        const float left = swapped ? 1.0F : 0.0F;
        list.AddImageQuad(texture, {c[0].x, c[0].y}, {c[1].x, c[1].y}, {c[2].x, c[2].y}, {c[3].x, c[3].y}, {left, 0},
                          {1 - left, 0}, {1 - left, 1}, {left, 1},
                          IM_COL32(255, 255, 255, static_cast<int>(opacity * 255)));
    }
    // Which of the two it is, at the top of its box.
    void tag(const Box& box, const std::string& text, bool now) const {
        ImFont* font = view.fonts.small;
        const float most = box.w - view.px(40);
        const ImVec2 size = size_of(font, text);
        const float w = std::min(size.x, most);
        const ImVec2 at{box.x + view.px(10), box.y + view.px(8)};
        list.AddRectFilled({at.x - view.px(5), at.y - view.px(3)}, {at.x + w + view.px(22), at.y + size.y + view.px(3)},
                           ink(view.colours.felt, 0.85F), view.px(4));
        const ImVec2 dot{at.x + view.px(5), at.y + size.y / 2};
        if (now)
            list.AddCircleFilled(dot, view.px(4.5F), ink(okabe_ito::orange), 16);
        else
            list.AddRect({dot.x - view.px(4), dot.y - view.px(4)}, {dot.x + view.px(4), dot.y + view.px(4)},
                         ink(okabe_ito::sky_blue), 0, 0, view.px(2));
        text_cut(list, font, {at.x + view.px(16), at.y}, ink(view.colours.on_felt), text, most);
    }
};

// Which take is which, in the two marks that stand for them everywhere on this page.
std::string now_title(const PairDesk& desk) {
    return desk.made->now.title;
}

void draw_outline(const Stage& stage, const PictureView& at) {
    const auto due = stage.desk.due();
    const auto& take = stage.desk.made->made.before[stage.desk.films->before_take];
    if (!due || !take.course) return;
    // Paused, as the network sees it; while playing, as the landmarks give it.
    const auto& traced = stage.desk.traced;
    const bool exact =
        traced && !stage.desk.running && traced->take == stage.desk.films->before_take &&
        traced->pts == picture_at(*stage.desk.films->before_index, stage.desk.before_clip(), due->before_s);
    const auto body = exact ? std::nullopt : body_at(*take.course, due->before_s);
    if (!exact && !body) return;
    const compare::Affine map = placement(stage.desk);
    const double w = stage.desk.films->now_info.shown_width(), h = stage.desk.films->now_info.shown_height();
    const auto place = [&](body::Point p) {
        const ScreenSpot s =
            at.to_screen({(map[0] * p.x + map[1] * p.y + map[2]) / w, (map[3] * p.x + map[4] * p.y + map[5]) / h});
        return ImVec2{s.x, s.y};
    };
    const auto lines = exact ? traced->lines : body_outline(*body);
    for (const auto& [colour, width] :
         {std::pair{IM_COL32(0, 0, 0, 190), 4.5F}, std::pair{ink(okabe_ito::sky_blue), 2.2F}})
        for (const auto& [a, b] : lines) stage.list.AddLine(place(a), place(b), colour, stage.view.px(width));
}

void draw_edge(const Stage& stage, const Box& box, const PictureView& at) {
    const Box& p = at.picture();
    const float share = static_cast<float>(stage.desk.zooming.mirrored ? 1 - stage.desk.edge : stage.desk.edge);
    const float x = std::clamp(p.x + share * p.w, box.x, box.right());
    const bool mirrored = stage.desk.zooming.mirrored;
    stage.list.PushClipRect({mirrored ? box.x : x, box.y}, {mirrored ? x : box.right(), box.bottom()}, true);
    const auto c = at.corners();
    stage.list.AddQuadFilled({c[0].x, c[0].y}, {c[1].x, c[1].y}, {c[2].x, c[2].y}, {c[3].x, c[3].y},
                             ink(stage.view.colours.felt));
    stage.earlier_picture(at);
    stage.list.PopClipRect();
    stage.list.AddLine({x, box.y}, {x, box.bottom()}, IM_COL32(0, 0, 0, 190), stage.view.px(4));
    stage.list.AddLine({x, box.y}, {x, box.bottom()}, ink(stage.view.colours.on_felt), stage.view.px(2));
    const ImVec2 grip{x, box.y + box.h * 0.5F};
    stage.list.AddCircleFilled(grip, stage.view.px(11), ink(stage.view.colours.on_felt), 24);
    const float a = stage.view.px(5);
    for (const float way : {-1.0F, 1.0F})
        stage.list.AddTriangleFilled({grip.x + way * stage.view.px(8), grip.y},
                                     {grip.x + way * stage.view.px(2.5F), grip.y - a},
                                     {grip.x + way * stage.view.px(2.5F), grip.y + a}, ink(stage.view.colours.felt));
    ImGui::SetCursorScreenPos({x - stage.view.px(12), box.y});
    ImGui::InvisibleButton("edge", {stage.view.px(24), box.h});
    if (ImGui::IsItemHovered() || ImGui::IsItemActive()) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    if (ImGui::IsItemActive() && ImGui::GetIO().MouseDelta.x != 0) {
        const double to = static_cast<double>((ImGui::GetIO().MousePos.x - p.x) / p.w);
        stage.view.ask(PairCommand{pairing::SetEdge{mirrored ? 1 - to : to}});
    }
}

// A click plays or pauses, dragging moves, the wheel zooms; the same on both.
void handle_pointer(const Stage& stage, const char* id, const Box& box) {
    const ImGuiIO& io = ImGui::GetIO();
    const View& view = stage.view;
    const Zooming& zooming = stage.zooming;
    const double aspect = stage.aspect;
    ImGui::SetCursorScreenPos(corner(box));
    ImGui::InvisibleButton(id, {box.w, box.h});
    ImGui::SetItemAllowOverlap();  // the edge lies on top
    if (ImGui::IsItemHovered() && io.MouseWheel != 0)
        view.ask(PairCommand{
            pairing::SetZooming{zoomed(zooming, box, aspect, std::pow(1.15, static_cast<double>(io.MouseWheel)),
                                       {io.MousePos.x, io.MousePos.y})}});
    if (ImGui::IsItemActive() && ImGui::IsMouseDragging(ImGuiMouseButton_Left, 4) &&
        (io.MouseDelta.x != 0 || io.MouseDelta.y != 0))
        view.ask(PairCommand{pairing::SetZooming{panned(zooming, box, aspect, io.MouseDelta.x, io.MouseDelta.y)}});
    const ImVec2 way = ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 0);
    if (ImGui::IsItemDeactivated() && ImGui::IsItemHovered() && std::abs(way.x) + std::abs(way.y) < 4)
        view.ask(Press{Action::play_or_pause});
}

void draw_beside(const Stage& stage, const Box& box) {
    const float between = stage.view.px(4);
    const Box left{box.x, box.y, (box.w - between) / 2, box.h};
    const Box right{left.right() + between, box.y, left.w, box.h};
    for (const bool now : {true, false}) {
        const Box& half = now ? left : right;
        stage.list.PushClipRect(corner(half), far_corner(half), true);
        const PictureView at(half, stage.aspect, stage.zooming);
        now ? stage.now_picture(at) : stage.earlier_picture(at);
        stage.tag(half, now ? now_title(stage.desk) : stage.desk.made->before.title, now);
        stage.list.PopClipRect();
        handle_pointer(stage, now ? "now" : "before", half);
    }
    stage.list.AddRectFilled({left.right(), box.y}, {right.x, box.bottom()}, ink(stage.view.colours.paper));
}

// Both in one frame.
void draw_together(const Stage& stage, const Box& box) {
    const PairDesk& desk = stage.desk;
    const PictureView at(box, stage.aspect, stage.zooming);
    handle_pointer(stage, "both", box);
    const bool second = desk.look == PairLook::blink && std::fmod(ImGui::GetTime(), 2 * desk.blink_s) >= desk.blink_s;
    if (!second) stage.now_picture(at);
    if (second) stage.earlier_picture(at);
    if (desk.look == PairLook::over) stage.earlier_picture(at, static_cast<float>(desk.opacity));
    if (desk.look == PairLook::outline) draw_outline(stage, at);
    if (desk.look == PairLook::edge) draw_edge(stage, box, at);
    const float line = stage.view.px(24);
    if (!second) stage.tag(box, now_title(desk), true);
    const bool shows_before = desk.look != PairLook::blink || second;
    if (shows_before) {
        const Box below{box.x, second ? box.y : box.y + line, box.w, box.h};
        stage.tag(below, desk.made->before.title, false);
    }
}

void say(const View& view, const Box& box, const std::string& text) {
    ImFont* font = view.fonts.text;
    const float wrap = std::min(box.w - view.px(60), view.px(420));
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6F, wrap, text.c_str());
    ImGui::GetWindowDrawList()->AddText(font, font->FontSize,
                                        {box.x + (box.w - size.x) / 2, box.y + (box.h - size.y) / 2},
                                        ink(view.colours.on_felt), text.c_str(), nullptr, wrap);
}

// A tilt is said of the film as it was filmed; here a mirrored one is mirrored back.
Zooming upright(const ReviewState& state) {
    Zooming zooming = state.pair.zooming;
    const posing::ClipFacts& now = state.pair.now_clip();
    if (const auto* clip = state.library->find_clip(now.fingerprint))
        zooming.tilt_deg = clip->tilt_deg.value_or(0) * (now.mirrored ? -1 : 1);
    return zooming;
}

}  // namespace

void draw_pair_stage(const View& view, const Box& box) {
    const PairDesk& desk = view.state.pair;
    begin_panel("pair stage", box, ink(view.colours.felt), 0, ImGuiWindowFlags_NoScrollWithMouse);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.PushClipRect(corner(box), far_corner(box), true);
    if (!desk.made || !desk.films || view.pair_now == nullptr) {
        say(view, box,
            !desk.trouble.empty() ? desk.trouble
            : desk.working        ? "Comparing. Clips that were not measured yet are measured first."
                                  : "Reading the pictures");
    } else {
        const media::ClipInfo& now = desk.films->now_info;
        const Stage stage{view, desk, list, static_cast<double>(now.shown_width()) / std::max(1, now.shown_height()),
                          upright(view.state)};
        if (desk.look == PairLook::beside)
            draw_beside(stage, box);
        else
            draw_together(stage, box);
    }
    list.PopClipRect();
    end_panel();
}

}  // namespace quarterturn::app::views
