#include <fmt/format.h>

#include "app/ribbon_scale.hpp"
#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

/// One film's row: its name and fine offset on the left, its holds on the right.
struct Row {
    bool now;
    const posing::Analysis& analysis;
    std::size_t take;
    Box head, blocks;
    double at_s;
};

struct Rows {
    const View& view;
    const PairDesk& desk;
    ImDrawList& list;
    RibbonScale scale;
};

void mark_of_take(ImDrawList& list, const View& view, ImVec2 at, bool now) {
    if (now)
        list.AddCircleFilled(at, view.px(4.5F), ink(okabe_ito::orange), 16);
    else
        list.AddRect({at.x - view.px(4), at.y - view.px(4)}, {at.x + view.px(4), at.y + view.px(4)},
                     ink(okabe_ito::sky_blue), 0, 0, view.px(2));
}

void draw_head(const Rows& r, const Row& row) {
    const View& view = r.view;
    mark_of_take(r.list, view, {row.head.x + view.px(12), row.head.y + view.px(9)}, row.now);
    text_cut(r.list, view.fonts.small, {row.head.x + view.px(22), row.head.y + view.px(1)}, ink(view.colours.on_felt),
             row.now ? "This season" : "Earlier", row.head.w - view.px(30));
    const double step = 1.0 / 30;
    const double offset = row.now ? r.desk.offset.now_s : r.desk.offset.before_s;
    ImGui::PushID(row.now ? "now" : "before");
    ImGui::SetCursorScreenPos({row.head.x + view.px(8), row.head.y + view.px(20)});
    const auto shift = [&](double by) {
        return PairCommand{row.now ? pairing::ShiftBy{by, 0} : pairing::ShiftBy{0, by}};
    };
    const auto nudge = [&](const char* id, Icon icon, double by, Action key) {
        if (button(view, id,
                   {.icon = icon,
                    .hint = std::string(by > 0 ? "Show a later moment" : "Show an earlier moment") +
                            (row.now ? "" : "  (" + view.hint(key) + ")"),
                    .quiet = true,
                    .on_felt = true,
                    .width = view.px(24),
                    .height = view.px(22)}))
            view.ask(shift(by));
        ImGui::SameLine(0, view.px(2));
    };
    nudge("sooner", Icon::minus, -step, Action::earlier_sooner);
    if (button(view, "none",
               {.text = fmt::format("{:+.2f} s", offset + 0.0),
                .hint = "Fine offset. Press: no offset  (" + view.hint(Action::offsets_off) + ")",
                .quiet = true,
                .on_felt = true,
                .width = view.px(62),
                .height = view.px(22),
                .small = true}))
        view.ask(shift(-offset));
    ImGui::SameLine(0, view.px(2));
    nudge("later", Icon::plus, step, Action::earlier_later);
    ImGui::PopID();
}

void draw_blocks(const Rows& r, const Row& row) {
    const compare::Pair* chosen = r.desk.chosen() != nullptr ? &r.desk.chosen()->pair : nullptr;
    for (std::size_t i = 0; i < row.analysis.segments.size(); ++i) {
        const posing::Segment& segment = row.analysis.segments[i];
        const float from = r.scale.x_of(segment.start_s), to = std::max(from + 2, r.scale.x_of(segment.end_s));
        const bool hold = segment.kind == posing::SegmentKind::hold;
        const float inset = hold ? 0 : r.view.px(6);
        draw_block(r.list, {from + 1, row.blocks.y + inset}, {to - 1, row.blocks.bottom() - inset},
                   look_of(category_of(segment.kind)), r.view.scale);
        if (!hold) continue;
        if (to - from > r.view.px(26))
            text_cut(
                r.list, r.view.fonts.small,
                {from + r.view.px(5), row.blocks.y + (row.blocks.h - r.view.fonts.small->FontSize) / 2},
                IM_COL32(10, 16, 22, 255),
                compare::pose_title(segment.pose.value_or(""), r.desk.made->rules ? &*r.desk.made->rules : nullptr),
                to - from - r.view.px(8));
        const compare::HoldPlace place{row.take, i};
        if (chosen != nullptr && place == (row.now ? chosen->now : chosen->before))
            r.list.AddRect({from - 1, row.blocks.y - r.view.px(2)}, {to + 1, row.blocks.bottom() + r.view.px(2)},
                           ink(r.view.colours.on_felt), r.view.px(4), 0, r.view.px(2.5F));
    }
}

// What belongs together, from the upper row to the lower one: paired holds as bands, with a ring where a person
// said so.
void draw_links(const Rows& r, const Row& now, const Row& before) {
    const float top = now.blocks.bottom() + r.view.px(3), bottom = before.blocks.y - r.view.px(3);
    for (std::size_t i = 0; i < r.desk.made->made.pairs.size(); ++i) {
        const compare::Pair& pair = r.desk.made->made.pairs[i].pair;
        if (pair.now.take != now.take || pair.before.take != before.take) continue;
        const posing::Segment& a = now.analysis.segments[pair.now.segment];
        const posing::Segment& b = before.analysis.segments[pair.before.segment];
        const bool chosen = i == r.desk.pair;
        const ImVec2 corners[4] = {{r.scale.x_of(a.start_s) + 2, top},
                                   {r.scale.x_of(a.end_s) - 2, top},
                                   {r.scale.x_of(b.end_s) - 2, bottom},
                                   {r.scale.x_of(b.start_s) + 2, bottom}};
        r.list.AddConvexPolyFilled(corners, 4, ink(look_of(Category::hold).colour, chosen ? 0.75F : 0.3F));
        if (pair.by_person) {
            const ImVec2 middle{(corners[0].x + corners[1].x + corners[2].x + corners[3].x) / 4, (top + bottom) / 2};
            r.list.AddCircle(middle, r.view.px(4), ink(r.view.colours.on_felt), 16, r.view.px(2));
        }
    }
}

// As the moment on screen is drawn: upright within the rows, from one to the other between them.
void draw_pins(const Rows& r, const Row& now, const Row& before) {
    const ImU32 colour = ink(okabe_ito::yellow);
    const float w = r.view.px(1.6F);
    for (const journal::Pin* pin : moment_pins(*r.view.state.library, r.desk)) {
        const float a = r.scale.x_of(compare::seconds_of(r.desk.now_clip(), *pin->now.at));
        const float b = r.scale.x_of(compare::seconds_of(r.desk.before_clip(), *pin->before.at));
        const ImVec2 from{a, now.blocks.bottom() + r.view.px(2)}, to{b, before.blocks.y - r.view.px(2)};
        r.list.AddLine({a, now.blocks.y}, from, colour, w);
        r.list.AddLine(from, to, colour, w);
        r.list.AddLine(to, {b, before.blocks.bottom()}, colour, w);
        r.list.AddCircleFilled({(from.x + to.x) / 2, (from.y + to.y) / 2}, r.view.px(4.5F), colour, 16);
    }
}

void draw_now(const Rows& r, const Row& now, const Row& before) {
    const ImU32 colour = ink(r.view.colours.on_felt);
    const float a = r.scale.x_of(now.at_s), b = r.scale.x_of(before.at_s);
    const float w = r.view.px(2);
    r.list.AddLine({a, now.blocks.y - r.view.px(5)}, {a, now.blocks.bottom() + r.view.px(2)}, colour, w);
    r.list.AddLine({a, now.blocks.bottom() + r.view.px(2)}, {b, before.blocks.y - r.view.px(2)}, colour, w);
    r.list.AddLine({b, before.blocks.y - r.view.px(2)}, {b, before.blocks.bottom() + r.view.px(5)}, colour, w);
}

void handle_pointer(const Rows& r, const Row& row) {
    ImGui::SetCursorScreenPos({row.blocks.x, row.blocks.y});
    ImGui::InvisibleButton(row.now ? "now row" : "before row", {row.blocks.w, row.blocks.h});
    if (!ImGui::IsItemActive() || (ImGui::GetIO().MouseDelta.x == 0 && !ImGui::IsItemActivated())) return;
    const double at = r.scale.seconds_at(ImGui::GetIO().MousePos.x);
    const double clock =
        row.now ? at - r.desk.offset.now_s : r.desk.films->sync->clock_for_before(at, r.desk.sync, r.desk.offset);
    r.view.ask(PairCommand{pairing::Seek{clock}});
}

}  // namespace

void draw_pair_ribbon(const View& view, const Box& box) {
    const PairDesk& desk = view.state.pair;
    begin_panel("pair ribbon", box, ink(view.colours.felt), 0);
    const auto due = desk.due();
    if (due) {
        ImDrawList& list = *ImGui::GetWindowDrawList();
        const float head = view.px(136), pad = view.px(8);
        const float row_h = std::max(view.px(20), std::min(view.px(34), (box.h - view.px(44)) / 2));
        const Box upper{box.x + head, box.y + pad, box.w - head - view.px(12), row_h};
        const Box lower{upper.x, box.bottom() - pad - row_h, upper.w, row_h};
        const double length = std::max(desk.now_clip().duration_s, desk.before_clip().duration_s);
        const Rows rows{view, desk, list, RibbonScale({0, std::max(0.1, length)}, upper.x, upper.w)};
        const float head_h = view.px(44);
        const Row now{true,
                      *desk.made->made.now[desk.films->now_take].analysis,
                      desk.films->now_take,
                      {box.x, std::max(box.y, upper.y - view.px(4)), head, head_h},
                      upper,
                      due->now_s};
        const Row before{false,
                         *desk.made->made.before[desk.films->before_take].analysis,
                         desk.films->before_take,
                         {box.x, box.bottom() - pad - head_h, head, head_h},
                         lower,
                         due->before_s};
        list.PushClipRect({upper.x - 2, box.y}, {upper.right() + 2, box.bottom()}, true);
        draw_links(rows, now, before);
        draw_blocks(rows, now);
        draw_blocks(rows, before);
        draw_pins(rows, now, before);
        draw_now(rows, now, before);
        list.PopClipRect();
        draw_head(rows, now);
        draw_head(rows, before);
        handle_pointer(rows, now);
        handle_pointer(rows, before);
    }
    end_panel();
}

}  // namespace quarterturn::app::views
