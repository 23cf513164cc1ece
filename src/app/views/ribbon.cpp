#include <algorithm>
#include <cmath>

#include "app/apply.hpp"
#include "app/thinned.hpp"
#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

struct Ribbon {
    const View& view;
    ImDrawList& list;
    RibbonScale scale;
    Box curve, blocks, dots, ruler;
    const OpenClip& clip;
    [[nodiscard]] float x(std::int64_t pts) const { return scale.x_of(clip.seconds_of(pts)); }
};

Category span_category(const OpenClip& clip, const journal::SegmentSpan& span) {
    if (span.is_hold) return Category::hold;
    if (!clip.measured || !span.measured) return Category::pause;
    const posing::SegmentKind kind = clip.measured->segments[*span.measured].kind;
    return kind == posing::SegmentKind::hold ? Category::pause : category_of(kind);  // taken out by a person
}

void draw_curve(const Ribbon& r) {
    if (!r.clip.measured) return;
    const auto& signals = r.clip.measured->signals;
    const float full = r.curve.h - r.view.px(4);
    std::vector<ScreenSpot> line;
    const auto flush = [&] {
        std::vector<ImVec2> drawn;
        for (const ScreenSpot& at : thinned(line)) drawn.emplace_back(at.x, at.y);
        if (drawn.size() > 1)
            r.list.AddPolyline(drawn.data(), static_cast<int>(drawn.size()), ink(r.view.colours.on_felt), 0,
                               r.view.px(1.4F));
        line.clear();
    };
    for (std::size_t i = 0; i < std::min(signals.t_s.size(), signals.stillness.size()); ++i) {
        const float x = r.scale.x_of(signals.t_s[i]);
        if (x < r.curve.x - 20 || x > r.curve.right() + 20) continue;
        if (!signals.stillness[i]) {
            flush();
            continue;
        }
        // Quiet is high: half a body height per second is the floor; the root spreads what is nearly still.
        const float restless = static_cast<float>(std::sqrt(std::clamp(*signals.stillness[i] / 0.5, 0.0, 1.0)));
        line.push_back({x, r.curve.y + r.view.px(2) + restless * full});
    }
    flush();
}

Box block_box(const Ribbon& r, std::size_t i) {
    const auto& span = r.clip.spans[i];
    std::int64_t start = span.range.start, end = span.range.end;
    if (const auto& drag = r.view.state.desk.drag; drag && drag->span == i) (drag->end ? end : start) = drag->pts;
    const float left = r.x(start);
    return {left, r.blocks.y, std::max(2.0F, r.x(end) - left), r.blocks.h};
}

void draw_blocks(const Ribbon& r) {
    for (std::size_t i = 0; i < r.clip.spans.size(); ++i) {
        const Box box = block_box(r, i);
        if (box.right() < r.blocks.x || box.x > r.blocks.right()) continue;
        const auto& span = r.clip.spans[i];
        const CategoryLook look = look_of(span_category(r.clip, span));
        const bool quiet = !span.is_hold;
        const float inset = quiet ? r.view.px(5) : 0;
        draw_block(r.list, {box.x + 1, box.y + inset}, {box.right() - 1, box.bottom() - inset}, look, r.view.scale);
        if (span.is_hold && box.w > r.view.px(26)) {
            const std::string name = pose_title(r.view.state, span.pose) + (span.corrected ? " *" : "");
            r.list.PushClipRect({box.x, box.y}, {box.right(), box.bottom()}, true);
            text_cut(r.list, r.view.fonts.small,
                     {box.x + r.view.px(5), box.y + (box.h - r.view.fonts.small->FontSize) / 2},
                     IM_COL32(10, 16, 22, 255), name, box.w - r.view.px(8));
            r.list.PopClipRect();
        }
        if (r.view.state.desk.span == i)
            r.list.AddRect({box.x - 1, box.y - r.view.px(2)}, {box.right() + 1, box.bottom() + r.view.px(2)},
                           ink(r.view.colours.on_felt), r.view.px(4), 0, r.view.px(2.5F));
    }
    if (!r.view.state.desk.show_measured || !r.clip.measured) return;
    for (const auto& segment : r.clip.measured->segments)
        if (segment.kind == posing::SegmentKind::hold)
            r.list.AddRect({r.x(segment.start_pts), r.blocks.y - r.view.px(4)},
                           {r.x(segment.end_pts), r.blocks.bottom() + r.view.px(4)}, ink(okabe_ito::yellow),
                           r.view.px(4), 0, r.view.px(1));
}

void draw_dots(const Ribbon& r) {
    if (!r.view.state.library) return;
    for (const auto* note : r.view.state.library->notes_of_clip(r.clip.fingerprint)) {
        if (!note->moment) continue;
        const ImVec2 centre{r.x(note->moment->start_pts), r.dots.y + r.dots.h / 2};
        if (note->moment->end_pts)
            r.list.AddLine(centre, {r.x(*note->moment->end_pts), centre.y},
                           ink(look_of(note->done ? Category::note_done : Category::note_to_do).colour), r.view.px(2));
        draw_note_dot(r.list, centre, r.view.px(r.view.state.desk.note == note->id ? 7.0F : 5.0F), note->done);
    }
}

void draw_ruler(const Ribbon& r) {
    const RibbonSpan span = r.view.state.desk.ribbon;
    for (const Tick& tick : ticks(span, r.ruler.w, r.view.px(62))) {
        const float x = r.scale.x_of(tick.seconds);
        r.list.AddLine({x, r.ruler.y}, {x, r.ruler.y + r.view.px(tick.labelled ? 6 : 3)},
                       ink(r.view.colours.soft_on_felt), std::max(1.0F, r.view.scale));
        if (tick.labelled)
            r.list.AddText(r.view.fonts.small, r.view.fonts.small->FontSize,
                           {x + r.view.px(3), r.ruler.y + r.view.px(1)}, ink(r.view.colours.soft_on_felt),
                           tick.label.c_str());
    }
}

void draw_now(const Ribbon& r, const Box& box) {
    const Playing& playing = r.view.state.playing;
    if (playing.repeat) {
        const ImU32 shade = IM_COL32(255, 255, 255, 34);
        r.list.AddRectFilled({r.x(playing.repeat->start), box.y}, {r.x(playing.repeat->end), box.bottom()}, shade);
    }
    const float x = r.x(playing.pts);
    const ImU32 white = ink(r.view.colours.on_felt);
    r.list.AddLine({x, r.curve.y}, {x, r.ruler.bottom()}, IM_COL32_BLACK, r.view.px(4));
    r.list.AddLine({x, r.curve.y}, {x, r.ruler.bottom()}, white, r.view.px(2));
    r.list.AddTriangleFilled({x - r.view.px(6), r.curve.y - r.view.px(1)}, {x + r.view.px(6), r.curve.y - r.view.px(1)},
                             {x, r.curve.y + r.view.px(8)}, white);
    if (r.view.state.desk.stretch_from) {
        const float from = r.x(*r.view.state.desk.stretch_from);
        r.list.AddRectFilled({std::min(from, x), r.dots.y}, {std::max(from, x), r.dots.bottom()},
                             ink(okabe_ito::yellow, 0.35F));
    }
}

struct Edge {
    std::size_t span;
    bool end;
};

std::optional<Edge> edge_under(const Ribbon& r, ImVec2 at) {
    if (at.y < r.blocks.y || at.y > r.blocks.bottom()) return std::nullopt;
    const float reach = r.view.px(6);
    std::optional<Edge> best;
    float nearest = reach;
    for (std::size_t i = 0; i < r.clip.spans.size(); ++i) {
        if (!r.clip.spans[i].is_hold) continue;
        const Box box = block_box(r, i);
        for (const bool end : {false, true}) {
            const float distance = std::abs((end ? box.right() : box.x) - at.x);
            if (distance >= nearest) continue;
            nearest = distance;
            best = Edge{i, end};
        }
    }
    return best;
}

std::optional<std::size_t> block_under(const Ribbon& r, ImVec2 at) {
    if (at.y < r.blocks.y || at.y > r.blocks.bottom()) return std::nullopt;
    return span_at(r.clip, r.clip.pts_at(r.scale.seconds_at(at.x)));
}

void draw_menu(const Ribbon& r) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {r.view.px(10), r.view.px(8)});
    ImGui::PushStyleColor(ImGuiCol_PopupBg, ink4(r.view.colours.card));
    if (ImGui::BeginPopup("hold menu")) {
        const std::size_t span = r.view.scratch.span_menu;
        text_in(r.view.fonts.small, ink(r.view.colours.soft_ink), "This hold is");
        for (const Card& card : r.view.cards)
            if (!card.pose.empty() &&
                ImGui::MenuItem(card.title.c_str(), nullptr,
                                span < r.clip.spans.size() && r.clip.spans[span].pose == card.pose))
                r.view.ask(Relabel{span, card.pose});
        if (ImGui::MenuItem("No known pose")) r.view.ask(Relabel{span, std::nullopt});
        ImGui::Separator();
        if (ImGui::MenuItem("Split at this picture", r.view.hint(Action::split_hold).c_str()))
            r.view.ask(SplitAt{span, r.view.state.playing.pts});
        if (ImGui::MenuItem("Join with the next", r.view.hint(Action::join_hold).c_str())) r.view.ask(JoinNext{span});
        if (ImGui::MenuItem("Remove", r.view.hint(Action::remove_hold).c_str())) r.view.ask(RemoveHold{span});
        if (ImGui::MenuItem("Back to as measured", r.view.hint(Action::measured_hold).c_str()))
            r.view.ask(BackToMeasured{span});
        ImGui::EndPopup();
    }
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
}

void handle_wheel(const Ribbon& r, ImVec2 at) {
    const ImGuiIO& io = ImGui::GetIO();
    const RibbonSpan span = r.view.state.desk.ribbon;
    const double length = r.clip.duration_s();
    if (io.MouseWheel != 0 && !io.KeyShift)
        r.view.ask(SetRibbon{
            zoomed(span, std::pow(1.2, static_cast<double>(io.MouseWheel)), r.scale.seconds_at(at.x), length)});
    const float sideways = io.MouseWheelH + (io.KeyShift ? io.MouseWheel : 0);
    if (sideways != 0)
        r.view.ask(SetRibbon{scrolled(span, -static_cast<double>(sideways) * span.length_s / 10, length)});
}

// An edge is dragged, a block chosen; anywhere else the picture follows the hand.
void handle_pointer(const Ribbon& r, const Box& box) {
    static bool scrubbing = false;
    ImGui::SetCursorScreenPos({box.x, r.curve.y});
    ImGui::InvisibleButton("time", {box.w, r.ruler.bottom() - r.curve.y},
                           ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight);
    const ImVec2 at = ImGui::GetIO().MousePos;
    const auto edge = edge_under(r, at);
    const std::int64_t pts = r.clip.pts_at(std::clamp(r.scale.seconds_at(at.x), 0.0, r.clip.duration_s()));
    const auto& drag = r.view.state.desk.drag;
    if (ImGui::IsItemHovered()) {
        handle_wheel(r, at);
        if (edge || drag) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    }
    if (ImGui::IsItemActivated() && ImGui::IsMouseDown(ImGuiMouseButton_Left)) {
        const auto block = block_under(r, at);
        scrubbing = false;
        if (edge)
            r.view.ask(DragBound{
                edge->span, edge->end,
                r.clip.spans[edge->span].range.*(edge->end ? &journal::PtsRange::end : &journal::PtsRange::start)});
        else if (block && r.clip.spans[*block].is_hold)
            r.view.ask(ChooseSpan{block});
        else
            scrubbing = true;
    }
    const bool down = ImGui::IsItemActive() && ImGui::IsMouseDown(ImGuiMouseButton_Left);
    if (down && drag && ImGui::IsMouseDragging(ImGuiMouseButton_Left, 1))
        r.view.ask(DragBound{drag->span, drag->end, pts});
    if (down && scrubbing && pts != r.view.state.playing.pts) r.view.ask(Seek{pts});
    if (!down && drag) r.view.ask(DropBound{});
    if (ImGui::IsItemHovered() && ImGui::IsMouseReleased(ImGuiMouseButton_Right)) {
        const auto block = block_under(r, at);
        if (block && r.clip.spans[*block].is_hold) {
            r.view.scratch.span_menu = *block;
            ImGui::OpenPopup("hold menu");
        } else {
            r.view.ask(AddHold{pts, std::nullopt});
        }
    }
}

void draw_head(const View& view, const Box& box) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    float x = box.x + view.px(10);
    for (const Category category : {Category::hold, Category::transition, Category::walk, Category::pause,
                                    Category::note_to_do, Category::note_done}) {
        const CategoryLook look = look_of(category);
        const std::string word = std::string(category == Category::note_to_do  ? "note to do"
                                             : category == Category::note_done ? "note done"
                                                                               : look.word);
        const float y = box.y + view.px(6);
        const float width = view.px(24) + size_of(view.fonts.small, word).x + view.px(10);
        if (x + width > box.right() - view.px(250)) break;
        if (category == Category::note_to_do || category == Category::note_done)
            draw_note_dot(list, {x + view.px(9), y + view.px(7)}, view.px(5), category == Category::note_done);
        else
            draw_block(list, {x, y + view.px(1)}, {x + view.px(18), y + view.px(13)}, look, view.scale);
        list.AddText(view.fonts.small, view.fonts.small->FontSize, {x + view.px(23), y - view.px(1)},
                     ink(view.colours.soft_on_felt), word.c_str());
        x += width;
    }
    const float h = view.px(20);
    ImGui::SetCursorScreenPos({box.right() - view.px(244), box.y + view.px(3)});
    if (button(view, "measured",
               {.text = "As measured",
                .hint = "Outlines of the holds as they were measured",
                .on = view.state.desk.show_measured,
                .quiet = true,
                .on_felt = true,
                .height = h,
                .small = true}))
        view.ask(ShowMeasured{!view.state.desk.show_measured});
    ImGui::SameLine(0, view.px(3));
    if (button(view, "whole", {.text = "Whole clip", .quiet = true, .on_felt = true, .height = h, .small = true}))
        view.ask(SetRibbon{{0, view.state.clip->duration_s()}});
    ImGui::SameLine(0, view.px(3));
    const auto& chosen = view.state.desk.span;
    if (chosen && *chosen < view.state.clip->spans.size() && view.state.clip->spans[*chosen].is_hold &&
        button(view, "hold",
               {.text = "Hold...",
                .hint = "Name, split, join or remove the chosen hold",
                .quiet = true,
                .on_felt = true,
                .height = h,
                .small = true})) {
        view.scratch.span_menu = *chosen;
        ImGui::OpenPopup("hold menu");
    }
}

}  // namespace

Category category_of(posing::SegmentKind kind) {
    switch (kind) {
        case posing::SegmentKind::hold:
            return Category::hold;
        case posing::SegmentKind::transition:
            return Category::transition;
        case posing::SegmentKind::walk:
            return Category::walk;
        default:
            return Category::pause;
    }
}

void draw_ribbon(const View& view, const Box& box) {
    begin_panel("ribbon", box, ink(view.colours.felt), 0, ImGuiWindowFlags_NoScrollWithMouse);
    const bool roomy = box.h > view.px(90);
    const float head = roomy ? view.px(26) : view.px(2);
    const float ruler = view.px(17), dots = view.px(15);
    const float pad = view.px(10);
    const float inner = box.h - head - ruler - dots;
    const Box curve{box.x + pad, box.y + head, box.w - 2 * pad, roomy ? inner * 0.42F : inner * 0.2F};
    const Box blocks{curve.x, curve.bottom() + view.px(2), curve.w, inner - curve.h - view.px(4)};
    const Box dots_box{curve.x, blocks.bottom() + view.px(2), curve.w, dots};
    const Box ruler_box{curve.x, dots_box.bottom(), curve.w, ruler};
    const Ribbon ribbon{view,
                        *ImGui::GetWindowDrawList(),
                        RibbonScale(view.state.desk.ribbon, curve.x, curve.w),
                        curve,
                        blocks,
                        dots_box,
                        ruler_box,
                        *view.state.clip};
    if (roomy) draw_head(view, box);
    ribbon.list.PushClipRect({curve.x - view.px(2), box.y}, {curve.right() + view.px(2), box.bottom()}, true);
    draw_curve(ribbon);
    draw_blocks(ribbon);
    draw_dots(ribbon);
    draw_ruler(ribbon);
    draw_now(ribbon, {box.x, curve.y, box.w, ruler_box.bottom() - curve.y});
    ribbon.list.PopClipRect();
    draw_menu(ribbon);
    handle_pointer(ribbon, box);
    end_panel();
}

}  // namespace quarterturn::app::views
