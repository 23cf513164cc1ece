#include "app/views/widgets.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quarterturn::app::views {

ImU32 ink(Rgb colour, float opacity) {
    return IM_COL32(colour.r, colour.g, colour.b, static_cast<int>(opacity * 255));
}

ImVec4 ink4(Rgb colour, float opacity) {
    return {static_cast<float>(colour.r) / 255, static_cast<float>(colour.g) / 255, static_cast<float>(colour.b) / 255,
            opacity};
}

void draw_turn_mark(ImDrawList& list, ImVec2 centre, float radius, std::optional<double> facing_deg, ImU32 line,
                    ImU32 fill) {
    list.AddCircleFilled(centre, radius, fill, 32);
    list.AddCircle(centre, radius, line, 32, std::max(1.0F, radius / 8));
    if (!facing_deg) return;
    const float turn = static_cast<float>(*facing_deg * std::numbers::pi / 180);
    const ImVec2 ahead{std::sin(turn), std::cos(turn)};
    const ImVec2 side{-ahead.y, ahead.x};
    const auto at = [&](float forward, float sideways) {
        return ImVec2{centre.x + radius * (forward * ahead.x + sideways * side.x),
                      centre.y + radius * (forward * ahead.y + sideways * side.y)};
    };
    list.AddTriangleFilled(at(1.45F, 0), at(0.75F, -0.55F), at(0.75F, 0.55F), line);
    list.AddCircleFilled(centre, radius * 0.35F, line, 16);
}

void draw_block(ImDrawList& list, ImVec2 from, ImVec2 to, const CategoryLook& look, float scale) {
    const ImU32 colour = ink(look.colour);
    const float w = to.x - from.x;
    if (w <= 0) return;
    const float round = std::min(4 * scale, w / 3);
    if (look.pattern == Pattern::solid) {
        list.AddRectFilled(from, to, colour, round);
        return;
    }
    list.PushClipRect(from, to, true);
    if (look.pattern == Pattern::slanted) {
        const float h = to.y - from.y;
        for (float x = from.x - h; x < to.x; x += 7 * scale)
            list.AddLine({x, to.y}, {x + h, from.y}, colour, 2 * scale);
    } else if (look.pattern == Pattern::dotted) {
        for (float x = from.x + 4 * scale; x < to.x; x += 8 * scale)
            for (float y = from.y + 4 * scale; y < to.y; y += 8 * scale)
                list.AddCircleFilled({x, y}, 2 * scale, colour, 8);
    }
    list.PopClipRect();
    list.AddRect({from.x + 0.5F, from.y + 0.5F}, {to.x - 0.5F, to.y - 0.5F}, colour, round, 0, std::max(1.0F, scale));
}

void draw_note_dot(ImDrawList& list, ImVec2 c, float r, bool done) {
    const CategoryLook look = look_of(done ? Category::note_done : Category::note_to_do);
    if (done)
        list.AddCircle(c, r * 0.8F, ink(look.colour), 20, std::max(1.5F, r * 0.35F));
    else
        list.AddTriangleFilled({c.x - r, c.y - r * 0.8F}, {c.x + r, c.y - r * 0.8F}, {c.x, c.y + r}, ink(look.colour));
}

void draw_measured_mark(ImDrawList& list, ImVec2 c, float r, MeasuredMark mark, double share, ImU32 colour) {
    constexpr float top = -std::numbers::pi_v<float> / 2, round = 2 * std::numbers::pi_v<float>;
    const float thick = std::max(1.5F, r * 0.3F);
    const auto slice = [&](float from, float to) {
        list.PathLineTo(c);
        list.PathArcTo(c, r, from, to, 24);
        list.PathFillConvex(colour);
    };
    switch (mark) {
        case MeasuredMark::measured:
            return list.AddCircleFilled(c, r, colour, 24);
        case MeasuredMark::waiting:
            for (const float x : {-0.9F, 0.0F, 0.9F}) list.AddCircleFilled({c.x + x * r, c.y}, r * 0.3F, colour, 12);
            return;
        case MeasuredMark::being_measured: {
            list.AddCircle(c, r, colour, 24, thick);
            // Two slices: a filled path has to be convex.
            const float to = static_cast<float>(std::clamp(share, 0.0, 1.0)) * round;
            if (to > 0) slice(top, top + std::min(to, round / 2));
            if (to > round / 2) slice(top + round / 2, top + to);
            return;
        }
        case MeasuredMark::other_settings:
            list.AddCircle(c, r, colour, 24, thick);
            return slice(top + round / 4, top + 3 * round / 4);
        case MeasuredMark::older_version:
            list.AddLine({c.x - r * 0.7F, c.y + r * 0.7F}, {c.x + r * 0.7F, c.y - r * 0.7F}, colour, thick);
            [[fallthrough]];
        case MeasuredMark::not_measured:
            return list.AddCircle(c, r, colour, 24, thick);
    }
}

bool begin_panel(const char* name, const Box& box, ImU32 ground, float padding, ImGuiWindowFlags flags) {
    ImGui::SetNextWindowPos(corner(box));
    ImGui::SetNextWindowSize({std::max(1.0F, box.w), std::max(1.0F, box.h)});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {padding, padding});
    ImGui::PushStyleColor(ImGuiCol_WindowBg, ground);
    return ImGui::Begin(name, nullptr,
                        ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                            ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoNavFocus | flags);
}

void end_panel() {
    ImGui::End();
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
}

ImVec2 size_of(ImFont* font, const std::string& text) {
    return font->CalcTextSizeA(font->FontSize, 1e6F, 0, text.c_str());
}

std::string with_key(const std::string& text, const std::string& key) {
    return key.empty() ? text : text + "  (" + key + ")";
}

void text_in(ImFont* font, ImU32 colour, const std::string& text) {
    ImGui::PushFont(font);
    ImGui::PushStyleColor(ImGuiCol_Text, colour);
    ImGui::TextUnformatted(text.c_str(), text.c_str() + text.size());
    ImGui::PopStyleColor();
    ImGui::PopFont();
}

void text_cut(ImDrawList& list, ImFont* font, ImVec2 at, ImU32 colour, const std::string& text, float width) {
    std::string shown = text;
    if (size_of(font, shown).x > width) {
        while (!shown.empty() && size_of(font, shown + "...").x > width) {
            do shown.pop_back();
            while (!shown.empty() && (static_cast<unsigned char>(shown.back()) & 0xC0U) == 0x80U);
            if (!shown.empty() && (static_cast<unsigned char>(shown.back()) & 0xC0U) == 0xC0U) shown.pop_back();
        }
        shown += "...";
    }
    list.AddText(font, font->FontSize, at, colour, shown.c_str());
}

void tip(const View& view, const std::string& text) {
    if (text.empty() || !ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) return;
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {view.px(8), view.px(5)});
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(view.px(360));
    text_in(view.fonts.small, ink(view.colours.on_felt), text);
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
    ImGui::PopStyleVar();
}

void gap(float pixels) {
    ImGui::Dummy({0, pixels});
}

bool button(const View& view, const char* id, const ButtonLook& look) {
    const Palette& c = view.colours;
    ImFont* font = look.small ? view.fonts.small : view.fonts.text;
    const ImVec2 words = look.text.empty() ? ImVec2{0, font->FontSize} : size_of(font, look.text);
    const float icon = look.icon ? font->FontSize * 1.15F : 0;
    const float between = look.icon && !look.text.empty() ? view.px(6) : 0;
    const float pad = view.px(look.small ? 7 : 11);
    const float width = look.width > 0 ? look.width : words.x + icon + between + 2 * pad;
    const float height = look.height > 0 ? look.height : font->FontSize + view.px(look.small ? 8 : 13);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const bool pressed = ImGui::InvisibleButton(id, {width, height});
    const bool over = ImGui::IsItemHovered();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 to{at.x + width, at.y + height};
    const float round = view.px(5);
    const Rgb ground = look.on || look.main ? c.accent : look.on_felt ? c.felt : c.card;
    const Rgb words_ink = look.on || look.main ? c.on_accent : look.on_felt ? c.on_felt : c.ink;
    if (look.on || look.main || !look.quiet) list.AddRectFilled(at, to, ink(ground), round);
    if (over && !look.on && !look.main)
        list.AddRectFilled(at, to, look.on_felt ? IM_COL32(255, 255, 255, 40) : ink(c.card_pressed), round);
    if (!look.on && !look.main && !look.quiet)
        list.AddRect(at, to, ink(look.on_felt ? c.soft_on_felt : c.edge), round, 0, std::max(1.0F, view.scale));
    if (over && (look.on || look.main)) list.AddRect(at, to, ink(c.ink), round, 0, std::max(1.0F, view.scale));
    if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible)
        list.AddRect({at.x - 2, at.y - 2}, {to.x + 2, to.y + 2}, ink(c.accent), round, 0, view.px(2));
    // Icon and words stand in the middle, unless the button is a line of a list (wider than it needs, with an icon).
    const float content = words.x + icon + between;
    const bool line = look.icon && !look.text.empty() && look.width > 0;
    float x = line ? at.x + pad : at.x + (width - content) / 2;
    if (look.icon) {
        draw_icon(list, *look.icon, {x, at.y + (height - icon) / 2}, icon, ink(words_ink));
        x += icon + between;
    }
    if (!look.text.empty())
        text_cut(list, font, {x, at.y + (height - font->FontSize) / 2}, ink(words_ink), look.text, to.x - x);
    tip(view, look.hint);
    return pressed;
}

void dress(ImGuiStyle& style, const Palette& c, float scale) {
    style = ImGuiStyle();
    style.ScaleAllSizes(scale);
    style.WindowRounding = 0;
    style.WindowBorderSize = 0;
    style.ChildRounding = 6 * scale;
    style.FrameRounding = 5 * scale;
    style.FrameBorderSize = std::max(1.0F, scale);
    style.FramePadding = {9 * scale, 6 * scale};
    style.ItemSpacing = {8 * scale, 7 * scale};
    style.ScrollbarSize = 12 * scale;
    style.ScrollbarRounding = 6 * scale;
    style.PopupRounding = 6 * scale;
    style.PopupBorderSize = std::max(1.0F, scale);
    style.WindowMinSize = {1, 1};
    auto& k = style.Colors;
    k[ImGuiCol_Text] = ink4(c.ink);
    k[ImGuiCol_TextDisabled] = ink4(c.soft_ink);
    k[ImGuiCol_ChildBg] = ImVec4(0, 0, 0, 0);
    k[ImGuiCol_PopupBg] = ink4(c.felt);
    k[ImGuiCol_Border] = ink4(c.edge);
    k[ImGuiCol_FrameBg] = ink4(c.card);
    k[ImGuiCol_FrameBgHovered] = k[ImGuiCol_FrameBgActive] = ink4(c.card_pressed);
    k[ImGuiCol_Header] = ink4(c.card_pressed);
    k[ImGuiCol_HeaderHovered] = k[ImGuiCol_HeaderActive] = ink4(c.card_pressed);
    k[ImGuiCol_Button] = ink4(c.card);
    k[ImGuiCol_ButtonHovered] = k[ImGuiCol_ButtonActive] = ink4(c.card_pressed);
    k[ImGuiCol_CheckMark] = k[ImGuiCol_SliderGrab] = k[ImGuiCol_SliderGrabActive] = ink4(c.accent);
    k[ImGuiCol_ScrollbarBg] = ImVec4(0, 0, 0, 0);
    k[ImGuiCol_ScrollbarGrab] = ink4(c.edge);
    k[ImGuiCol_ScrollbarGrabHovered] = k[ImGuiCol_ScrollbarGrabActive] = ink4(c.accent);
    k[ImGuiCol_TextSelectedBg] = ink4(c.accent, 0.35F);
    k[ImGuiCol_NavHighlight] = ink4(c.accent);
    k[ImGuiCol_Separator] = ink4(c.hairline);
}

}  // namespace quarterturn::app::views
