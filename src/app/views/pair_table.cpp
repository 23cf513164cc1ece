#include <fmt/format.h>

#include <algorithm>

#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

const rules::RuleSet* rules_of(const PairDesk& desk) {
    return desk.made->rules ? &*desk.made->rules : nullptr;
}

// What stands against what, and the way to other clips.
void draw_head(const View& view, float width) {
    const PairDesk& desk = view.state.pair;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float line = view.fonts.text->FontSize + view.px(6);
    const float button_w = view.px(104);
    if (desk.made) {
        list.AddCircleFilled({at.x + view.px(5), at.y + line / 2 - view.px(2)}, view.px(5), ink(okabe_ito::orange), 16);
        list.AddCircle({at.x + view.px(5), at.y + line / 2 - view.px(2)}, view.px(5), ink(view.colours.ink), 16);
        text_cut(list, view.fonts.bold, {at.x + view.px(18), at.y}, ink(view.colours.ink), desk.made->now.title,
                 width - button_w - view.px(26));
        const ImVec2 dot{at.x + view.px(5), at.y + line * 1.5F - view.px(2)};
        list.AddRect({dot.x - view.px(4), dot.y - view.px(4)}, {dot.x + view.px(4), dot.y + view.px(4)},
                     ink(view.colours.accent), 0, 0, view.px(2));
        text_cut(list, view.fonts.text, {at.x + view.px(18), at.y + line}, ink(view.colours.ink),
                 "against " + desk.made->before.title, width - button_w - view.px(26));
    } else {
        text_cut(list, view.fonts.bold, at, ink(view.colours.ink), "Two takes side by side", width - button_w);
    }
    ImGui::SetCursorScreenPos({at.x + width - button_w, at.y + view.px(4)});
    if (button(view, "choose",
               {.text = desk.choosing ? "Back" : "Choose...",
                .hint = with_key("Which sessions or clips are compared", view.hint(Action::choose_session)),
                .width = button_w,
                .small = true}))
        view.ask(PairCommand{pairing::ShowSessions{!desk.choosing}});
    ImGui::SetCursorScreenPos({at.x, at.y + 2 * line + view.px(4)});
}

void draw_working(const View& view, float width) {
    const auto& jobs = view.state.jobs;
    const auto job =
        std::find_if(jobs.begin(), jobs.end(), [](const JobLine& j) { return j.kind == JobKind::comparing; });
    if (job == jobs.end()) return;
    const float bar = width - view.px(110);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    text_cut(list, view.fonts.small, at, ink(view.colours.soft_ink), "Comparing; what is missing is measured first",
             bar);
    const float y = at.y + view.px(20);
    const float share = static_cast<float>(std::clamp(job->share, 0.02, 1.0));
    list.AddRectFilled({at.x, y}, {at.x + bar, y + view.px(5)}, ink(view.colours.edge), view.px(2));
    list.AddRectFilled({at.x, y}, {at.x + bar * share, y + view.px(5)}, ink(view.colours.accent), view.px(2));
    ImGui::SetCursorScreenPos({at.x + bar + view.px(10), at.y});
    if (button(view, "stop", {.text = "Stop", .width = view.px(96), .small = true})) view.ask(CancelJob{job->id});
    ImGui::SetCursorScreenPos({at.x, at.y + view.px(32)});
}

void wrapped(const View& view, ImFont* font, Rgb colour, const std::string& text, float width) {
    ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
    text_in(font, ink(colour), text);
    ImGui::PopTextWrapPos();
    (void)view;
}

void draw_mirror(const View& view, float width) {
    const auto& mirror = view.state.pair.made->made.mirror;
    if (mirror.film == compare::MirrorHint::none) return;
    wrapped(view, view.fonts.small, view.colours.ink, mirror.reason, width);
    const bool now = mirror.film == compare::MirrorHint::now;
    if (button(view, "mirrored",
               {.text = now ? "This season's film is mirrored" : "The earlier film is mirrored",
                .hint = with_key("Marks it in the library and measures again. Can be undone",
                                 view.hint(Action::turn_mirrored_film)),
                .small = true}))
        view.ask(Press{Action::turn_mirrored_film});
    gap(view.px(4));
}

// Poses held in both, in two columns; those that differ have a dot.
void draw_pairs(const View& view, float width) {
    const PairDesk& desk = view.state.pair;
    const auto& pairs = desk.made->made.pairs;
    const float gap_px = view.px(4), w = (width - gap_px) / 2, h = view.px(27);
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::PushID(static_cast<int>(i));
        const auto beyond = std::count_if(pairs[i].differences.begin(), pairs[i].differences.end(),
                                          [](const auto& d) { return d.beyond_error().value_or(false); });
        const std::string title = compare::pair_title(desk.made->made, i, rules_of(desk));
        const bool on = desk.pair == i;
        if (button(view, "pair",
                   {.hint = beyond > 0 ? fmt::format("{} of its measures {} by more than the measuring error", beyond,
                                                     beyond == 1 ? "differs" : "differ")
                                       : "No difference beyond the measuring error",
                    .on = on,
                    .width = w,
                    .height = h,
                    .small = true}))
            view.ask(PairCommand{pairing::Choose{i}});
        ImGui::PopID();
        ImDrawList& list = *ImGui::GetWindowDrawList();
        const Rgb words = on ? view.colours.on_accent : view.colours.ink;
        const std::string count =
            beyond > 0 ? fmt::format("{} {}", beyond, beyond == 1 ? "differs" : "differ") : "within error";
        const float count_w = size_of(view.fonts.small, count).x;
        const float y = at.y + (h - view.fonts.small->FontSize) / 2;
        text_cut(list, view.fonts.small, {at.x + view.px(8), y}, ink(words), title, w - count_w - view.px(24));
        list.AddText(view.fonts.small, view.fonts.small->FontSize, {at.x + w - count_w - view.px(8), y},
                     ink(on ? view.colours.on_accent : view.colours.soft_ink), count.c_str());
        if (i % 2 == 0 && i + 1 < pairs.size())
            ImGui::SetCursorScreenPos({at.x + w + gap_px, at.y});
        else
            ImGui::SetCursorScreenPos({at.x - (i % 2 == 1 ? w + gap_px : 0), at.y + h + gap_px});
    }
}

void draw_unpaired(const View& view, float width) {
    const PairDesk& desk = view.state.pair;
    for (const auto& unpaired : desk.made->made.unpaired) {
        const auto& takes = unpaired.is_now ? desk.made->made.now : desk.made->made.before;
        const posing::Segment& hold = compare::hold_at(takes, unpaired.place);
        const std::string text =
            fmt::format("{} at {} {}: no counterpart", compare::pose_title(unpaired.pose.value_or(""), rules_of(desk)),
                        clock_time(hold.start_s, false), unpaired.is_now ? "this season" : "earlier");
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float most = width - (unpaired.is_now ? view.px(64) : 0);
        text_cut(*ImGui::GetWindowDrawList(), view.fonts.small, {at.x, at.y + view.px(3)}, ink(view.colours.soft_ink),
                 text, most);
        if (unpaired.is_now) {
            ImGui::PushID(static_cast<int>(unpaired.place.take * 1000 + unpaired.place.segment));
            ImGui::SetCursorScreenPos({at.x + width - view.px(58), at.y});
            if (button(view, "pair it", {.text = "Pair...", .width = view.px(58), .small = true}))
                view.ask(PairCommand{pairing::ShowHolds{unpaired.place}});
            ImGui::PopID();
        }
        ImGui::SetCursorScreenPos({at.x, at.y + view.px(24)});
    }
}

void draw_hold_choice(const View& view, float width) {
    const PairDesk& desk = view.state.pair;
    const compare::HoldPlace now = *desk.choosing_hold;
    const posing::Segment& hold = compare::hold_at(desk.made->made.now, now);
    wrapped(view, view.fonts.bold, view.colours.ink,
            fmt::format("Which earlier hold belongs to {} at {}?",
                        compare::pose_title(hold.pose.value_or(""), rules_of(desk)), clock_time(hold.start_s, false)),
            width);
    for (const compare::HoldPlace& place : holds_of(desk.made->made.before)) {
        const posing::Segment& other = compare::hold_at(desk.made->made.before, place);
        const std::string text =
            fmt::format("{} at {}, held {}", compare::pose_title(other.pose.value_or(""), rules_of(desk)),
                        clock_time(other.start_s, false), length_text(other.duration_s()));
        ImGui::PushID(static_cast<int>(place.take * 1000 + place.segment));
        const bool on =
            desk.chosen() != nullptr && desk.chosen()->pair.now == now && desk.chosen()->pair.before == place;
        if (button(view, "hold",
                   {.text = text,
                    .hint = desk.made->made.before[place.take].name,
                    .on = on,
                    .width = width,
                    .small = true}))
            view.ask(PairCommand{pairing::SetCounterpart{now, place}});
        ImGui::PopID();
    }
    if (button(view, "none",
               {.text = "None of them",
                .hint = with_key("", view.hint(Action::no_counterpart)),
                .width = width,
                .small = true}))
        view.ask(PairCommand{pairing::SetCounterpart{now, std::nullopt}});
    if (button(view, "back", {.text = "Leave it as it is", .quiet = true, .width = width, .small = true}))
        view.ask(PairCommand{pairing::ShowHolds{}});
}

struct Columns {
    float title, number, verdict;
};

void draw_line(const View& view, const Columns& c, ImVec2 at, const std::array<std::string, 6>& cells, Rgb colour,
               ImFont* font) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    text_cut(list, font, at, ink(colour), cells[0], c.title - view.px(6));
    for (std::size_t i = 1; i < 5; ++i) {
        const float right = at.x + c.title + static_cast<float>(i) * c.number - view.px(8);
        list.AddText(font, font->FontSize, {right - size_of(font, cells[i]).x, at.y}, ink(colour), cells[i].c_str());
    }
    text_cut(list, font, {at.x + c.title + 4 * c.number + view.px(14), at.y}, ink(colour), cells[5],
             c.verdict - view.px(14));
}

// Larger or smaller beyond the error: a full arrow head; within it: a hollow ring; unknown: nothing.
void draw_sign(const View& view, ImVec2 at, const DifferenceLine& line) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float r = view.px(4.5F);
    if (line.beyond) {
        const float way = line.verdict == "more" ? -1.0F : 1.0F;
        list.AddTriangleFilled({at.x - r, at.y - way * r * 0.7F}, {at.x + r, at.y - way * r * 0.7F},
                               {at.x, at.y + way * r}, ink(view.colours.accent));
    } else if (line.error != "-") {
        list.AddCircle(at, r * 0.7F, ink(view.colours.soft_ink), 16, view.px(1.2F));
    }
}

void draw_differences(const View& view, float width) {
    const PairDesk& desk = view.state.pair;
    const Columns c{width * 0.34F, width * 0.115F, width * 0.20F};
    const float h = view.fonts.small->FontSize + view.px(9);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    ImVec2 at = ImGui::GetCursorScreenPos();
    draw_line(view, c, at, {"", "this", "earlier", "change", "error", ""}, view.colours.soft_ink, view.fonts.small);
    ImGui::SetCursorScreenPos({at.x, at.y + h});
    const auto lines = difference_lines(desk.made->made, *desk.chosen());
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const DifferenceLine& line = lines[i];
        at = ImGui::GetCursorScreenPos();
        ImGui::PushID(static_cast<int>(i));
        ImGui::InvisibleButton("line", {width, h});
        tip(view, line.hint);
        ImGui::PopID();
        list.AddLine({at.x, at.y - view.px(2)}, {at.x + width, at.y - view.px(2)}, ink(view.colours.hairline),
                     std::max(1.0F, view.scale));
        const std::string words = line.verdict == "within the measuring error"  ? "within error"
                                  : line.verdict == "measuring error not known" ? "error unknown"
                                                                                : line.verdict;
        draw_line(
            view, c, {at.x, at.y + view.px(3)},
            {line.title, line.now, line.before, line.difference, line.error == "-" ? "-" : "± " + line.error, words},
            line.beyond ? view.colours.ink : view.colours.soft_ink, view.fonts.small);
        draw_sign(view, {at.x + c.title + 4 * c.number + view.px(4), at.y + h / 2 - view.px(1)}, line);
        ImGui::SetCursorScreenPos({at.x, at.y + h});
    }
}

void draw_alignment(const View& view, float width) {
    const compare::PairComparison& chosen = *view.state.pair.chosen();
    const std::string text =
        chosen.alignment
            ? fmt::format(
                  "At one scale, hips, shoulders and ankles lie {:.1f} % of body height apart; {:.1f} % more may "
                  "come from how near the phone stood.",
                  chosen.alignment->residual_body_pct, chosen.alignment->perspective_body_pct)
            : "Not brought to one scale: " + chosen.alignment_reason + ".";
    wrapped(view, view.fonts.small, view.colours.soft_ink, text, width);
}

void draw_chosen(const View& view, float width) {
    const PairDesk& desk = view.state.pair;
    const compare::PairComparison& chosen = *desk.chosen();
    gap(view.px(4));
    if (desk.pair + 1 < desk.made->words.size())
        wrapped(view, view.fonts.text, view.colours.ink, desk.made->words[desk.pair + 1], width);
    gap(view.px(2));
    draw_differences(view, width);
    gap(view.px(4));
    draw_alignment(view, width);
    if (chosen.pair.other_side)
        wrapped(view, view.fonts.small, view.colours.soft_ink, "The other side was shown to the judges then.", width);
    if (button(
            view, "other hold",
            {.text = "Another earlier hold...",
             .hint = with_key("Where the wrong holds were paired. Can be undone", view.hint(Action::next_counterpart)),
             .small = true}))
        view.ask(PairCommand{pairing::ShowHolds{chosen.pair.now}});
    const auto pins = moment_pins(*view.state.library, desk);
    if (!pins.empty()) {
        ImGui::SameLine(0, view.px(6));
        if (button(view, "unpin",
                   {.text = fmt::format("Take a pin out ({})", pins.size()),
                    .hint = with_key("The pinned moment nearest to what is on screen", view.hint(Action::unpin_moment)),
                    .small = true}))
            view.ask(Press{Action::unpin_moment});
    }
}

}  // namespace

void draw_pair_table(const View& view, const Box& box) {
    const PairDesk& desk = view.state.pair;
    begin_panel("pair table", box, ink(view.colours.paper), 0);
    ImGui::BeginChild("pair list", {box.w, box.h});
    const float width = box.w - view.px(16);
    if (view.scratch.seen_pair != desk.pair) {
        view.scratch.seen_pair = desk.pair;
        ImGui::SetScrollY(0);
    }
    draw_head(view, width);
    if (desk.working) draw_working(view, width);
    if (!desk.trouble.empty() && !desk.working) {
        wrapped(view, view.fonts.text, view.colours.ink, desk.trouble, width);
        if (button(view, "again", {.text = "Compare again", .small = true}))
            view.ask(PairCommand{pairing::CompareAgain{}});
        gap(view.px(4));
    }
    if (desk.choosing || (!desk.made && !desk.working)) {
        draw_pair_choice(view, width);
    } else if (desk.made) {
        draw_mirror(view, width);
        if (desk.choosing_hold)
            draw_hold_choice(view, width);
        else {
            wrapped(view, view.fonts.small, view.colours.soft_ink, desk.made->words.front(), width);
            draw_pairs(view, width);
            if (desk.chosen() != nullptr) draw_chosen(view, width);
            gap(view.px(4));
            draw_unpaired(view, width);
            for (const std::string& warning : desk.made->made.warnings)
                if (warning != desk.made->made.mirror.reason)
                    wrapped(view, view.fonts.small, view.colours.soft_ink, warning, width);
        }
    }
    ImGui::EndChild();
    end_panel();
}

}  // namespace quarterturn::app::views
