#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

constexpr float closed_height = 74;

void draw_still(const View& view, const Card& card, ImVec2 at, ImVec2 size) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 to{at.x + size.x, at.y + size.y};
    list.AddRectFilled(at, to, ink(view.colours.felt), view.px(4));
    ImVec2 px{};
    const ImTextureID still = card.best ? view.still(card.still_pts, px) : nullptr;
    if (still == nullptr || px.x <= 0 || px.y <= 0) {
        draw_turn_mark(list, {at.x + size.x / 2, at.y + size.y / 2}, view.px(9), card.facing_deg,
                       ink(view.colours.soft_on_felt), ink(view.colours.felt));
        return;
    }
    // Fills the frame; what sticks out at the sides is cut away.
    const float share = std::min(1.0F, (size.x / size.y) / (px.x / px.y));
    const float tall = std::min(1.0F, (px.x / px.y) / (size.x / size.y));
    list.AddImageRounded(still, at, to, {0.5F - share / 2, 0.5F - tall / 2}, {0.5F + share / 2, 0.5F + tall / 2},
                         IM_COL32_WHITE, view.px(4));
}

// A rod from zero to half again the target, filled as far as the hold went, with a notch at the target.
void draw_rod(const View& view, const Card& card, ImVec2 at, float width) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float h = view.px(10);
    const ImVec2 to{at.x + width, at.y + h};
    list.AddRectFilled(at, to, ink(view.colours.felt), h / 2);
    const double full = card.target_s ? *card.target_s * 1.5 : std::max(10.0, card.hold_s.value_or(0));
    if (card.hold_s) {
        const float share = static_cast<float>(std::clamp(*card.hold_s / full, 0.04, 1.0));
        list.AddRectFilled(at, {at.x + width * share, to.y}, ink(okabe_ito::sky_blue), h / 2);
    }
    if (!card.target_s) return;
    const float notch = at.x + width / 1.5F;
    list.AddRectFilled({notch - view.px(1.5F), at.y - view.px(3)}, {notch + view.px(1.5F), to.y + view.px(3)},
                       ink(view.colours.ink));
}

std::string hold_text(const Card& card) {
    if (!card.hold_s) return card.target_s ? fmt::format("not held - goal {:g} s", *card.target_s) : "not held";
    std::string text = length_text(*card.hold_s);
    if (card.target_s) text += fmt::format(" of {:g} s", *card.target_s);
    if (card.spans.size() > 1) text += fmt::format(", longest of {}", card.spans.size());
    return text;
}

std::string score_text(const journal::Score& score) {
    return score.percent ? fmt::format("{:.0f} %", std::round(*score.percent)) : std::string("-");
}

void draw_head(const View& view, const Card& card, ImVec2 at, float width) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Palette& c = view.colours;
    draw_still(view, card, {at.x + view.px(8), at.y + view.px(8)}, {view.px(44), view.px(58)});
    const float left = at.x + view.px(62);
    const float score_width = view.px(78);
    const std::string title = card.number > 0 ? fmt::format("{}  {}", card.number, card.title) : card.title;
    text_cut(list, view.fonts.bold, {left, at.y + view.px(9)}, ink(c.ink), title,
             width - view.px(62) - score_width - view.px(40));
    draw_rod(view, card, {left, at.y + view.px(36)},
             std::min(view.px(210), width - view.px(62) - score_width - view.px(40)));
    text_cut(list, view.fonts.small, {left, at.y + view.px(51)}, ink(card.hold_s ? c.ink : c.soft_ink), hold_text(card),
             width - view.px(62) - score_width - view.px(40));
    const float right = at.x + width - view.px(12);
    const auto right_text = [&](ImFont* font, float y, ImU32 colour, const std::string& text) {
        list.AddText(font, font->FontSize, {right - size_of(font, text).x, at.y + y}, colour, text.c_str());
    };
    if (card.expected != nullptr) {
        right_text(view.fonts.big, view.px(9), ink(card.own.percent ? c.ink : c.soft_ink), score_text(card.own));
        right_text(view.fonts.small, view.px(36), ink(c.soft_ink),
                   fmt::format("{} of {} marked", card.own.marked, card.own.items));
        if (card.coach_marked)
            right_text(view.fonts.small, view.px(51), ink(c.soft_ink), "coach " + score_text(card.coach));
    }
    if (card.to_do > 0) {
        const float x = right - score_width - view.px(26);
        const ImVec2 centre{x + view.px(6), at.y + view.px(17)};
        list.AddRectFilled({x - view.px(6), centre.y - view.px(10)}, {x + view.px(30), centre.y + view.px(10)},
                           ink(c.felt), view.px(10));
        draw_note_dot(list, {x + view.px(4), centre.y}, view.px(5), false);
        const std::string count = std::to_string(card.to_do);
        list.AddText(view.fonts.small, view.fonts.small->FontSize,
                     {x + view.px(15), centre.y - view.fonts.small->FontSize / 2}, ink(c.on_felt), count.c_str());
    }
}

void draw_inside(const View& view, const Card& card, float width) {
    const bool list_shown = view.state.desk.card_shows_checklist;
    ImGui::Indent(view.px(12));
    const float inner = width - view.px(24);
    const float half = (inner - view.px(6)) / 2;
    const std::string key = view.hint(Action::turn_card);
    if (button(view, "notes",
               {.text = "Notes",
                .hint = key.empty() ? "" : "Turn the card  (" + key + ")",
                .on = !list_shown,
                .width = half,
                .small = true}))
        view.ask(TurnCard{false});
    ImGui::SameLine(0, view.px(6));
    if (button(view, "checklist",
               {.text = "Checklist",
                .hint = key.empty() ? "" : "Turn the card  (" + key + ")",
                .on = list_shown,
                .width = half,
                .small = true}))
        view.ask(TurnCard{true});
    gap(view.px(2));
    if (list_shown)
        draw_card_checklist(view, card, inner);
    else
        draw_card_notes(view, card, inner);
    ImGui::Unindent(view.px(12));
    gap(view.px(6));
}

void draw_card(const View& view, const Card& card, float width) {
    const bool open = view.state.desk.card == card.pose;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    ImGui::PushID(card.pose.empty() ? "none" : card.pose.c_str());
    const ImVec2 at = ImGui::GetCursorScreenPos();
    list.ChannelsSplit(2);
    list.ChannelsSetCurrent(1);
    if (ImGui::InvisibleButton("head", {width, view.px(closed_height)}))
        view.ask(OpenCard{open ? std::nullopt : std::optional(card.pose)});
    const bool over = ImGui::IsItemHovered();
    draw_head(view, card, at, width);
    if (open) draw_inside(view, card, width);
    const ImVec2 to{at.x + width, ImGui::GetCursorScreenPos().y - ImGui::GetStyle().ItemSpacing.y};
    list.ChannelsSetCurrent(0);
    list.AddRectFilled(at, to, ink(over && !open ? view.colours.card_pressed : view.colours.card), view.px(7));
    list.AddRect(at, to, ink(open ? view.colours.accent : view.colours.hairline), view.px(7), 0, view.px(open ? 2 : 1));
    list.ChannelsMerge();
    if (open && view.scratch.seen_card != card.pose + "|") {
        view.scratch.seen_card = card.pose + "|";
        ImGui::SetScrollFromPosY(at.y - ImGui::GetWindowPos().y, 0.1F);
    }
    ImGui::PopID();
}

// Whether the clip is measured, and how it was filmed.
void draw_column_head(const View& view, float width) {
    const ReviewState& state = view.state;
    const std::string& clip = state.clip->fingerprint;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float middle = at.y + view.px(14);
    const MeasuredMark mark = measured_mark(state, clip);
    const JobLine* job = measuring_job(state, clip);
    draw_measured_mark(list, {at.x + view.px(9), middle}, view.px(6), mark, job != nullptr ? job->share : 0,
                       ink(view.colours.accent));
    const std::string who = "Who is the athlete", how = "How it was filmed";
    const float buttons = size_of(view.fonts.small, who).x + size_of(view.fonts.small, how).x + view.px(2 * 14 + 4);
    text_cut(list, view.fonts.small, {at.x + view.px(22), middle - view.fonts.small->FontSize / 2},
             ink(view.colours.ink), measured_text(state, clip), width - buttons - view.px(30));
    ImGui::Dummy({width - buttons - view.px(8), view.px(28)});
    tip(view, measured_hint(mark));
    ImGui::SetCursorScreenPos({at.x + width - buttons, at.y + view.px(3)});
    if (button(view, "who",
               {.text = who,
                .hint = with_key("Then press on the athlete in the picture", view.hint(Action::show_athlete)),
                .on = state.desk.athlete_aim.has_value(),
                .small = true}))
        view.ask(AskForAthlete{!state.desk.athlete_aim});
    ImGui::SameLine(0, view.px(4));
    if (button(view, "how",
               {.text = how,
                .hint = with_key("Rotation, tilt, slow motion, mirrored", view.hint(Action::show_filmed)),
                .on = state.desk.filmed_open,
                .small = true}))
        view.ask(ShowFilmed{!state.desk.filmed_open});
}

// What is missing of measuring, above everything else.
void draw_measuring(const View& view, float width) {
    const ReviewState& state = view.state;
    const std::string& clip = state.clip->fingerprint;
    const auto say = [&](const std::string& text) {
        ImGui::PushTextWrapPos(width);
        text_in(view.fonts.text, ink(view.colours.soft_ink), text);
        ImGui::PopTextWrapPos();
    };
    if (const JobLine* job = measuring_job(state, clip)) {
        if (button(view, "stop", {.icon = Icon::close, .text = "Stop measuring", .small = true}))
            view.ask(CancelJob{job->id});
        return;
    }
    if (state.clip->measured) {
        if (view.cards.empty()) say("No hold was found in this clip. Add one where you see it.");
        return;
    }
    const MeasuredMark mark = measured_mark(state, clip);
    const bool again = mark == MeasuredMark::other_settings || mark == MeasuredMark::older_version;
    say(measured_hint(mark));
    if (button(view, "measure",
               {.text = again ? "Measure it again" : "Measure this clip",
                .hint = with_key("Measure", view.hint(Action::measure_clip)),
                .main = true}))
        view.ask(AnalyseClip{clip});
}

}  // namespace

void draw_cards(const View& view, const Box& box) {
    begin_panel("cards", box, ink(view.colours.paper), 0, ImGuiWindowFlags_NoScrollWithMouse);
    draw_column_head(view, box.w);
    const float top = view.px(36);
    ImGui::SetCursorScreenPos({box.x, box.y + top});
    ImGui::BeginChild("list", {box.w, box.h - top}, false);
    const float width = box.w - ImGui::GetStyle().ScrollbarSize - view.px(4);
    if (!view.state.desk.card) view.scratch.seen_card.clear();
    if (view.state.desk.filmed_open) {
        draw_filmed(view, width);
    } else {
        draw_measuring(view, width);
        for (const Card& card : view.cards) draw_card(view, card, width);
    }
    gap(view.px(20));
    ImGui::EndChild();
    end_panel();
}

}  // namespace quarterturn::app::views
