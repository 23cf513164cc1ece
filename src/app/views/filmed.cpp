#include <imgui.h>

#include <cmath>

#include "app/filmed.hpp"
#include "app/views/widgets.hpp"

namespace quarterturn::app::views {
namespace {

void heading(const View& view, const char* title, const std::string& now) {
    gap(view.px(8));
    text_in(view.fonts.bold, ink(view.colours.ink), title);
    ImGui::SameLine(0, view.px(10));
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + view.px(3));
    text_in(view.fonts.small, ink(view.colours.soft_ink), now);
}

void explain(const View& view, const std::string& text) {
    ImGui::PushTextWrapPos(0);
    text_in(view.fonts.small, ink(view.colours.soft_ink), text);
    ImGui::PopTextWrapPos();
}

/// The next button beside the last one, or below it where the line is full.
void beside(const View& view, const std::string& text, float width) {
    const float wide = size_of(view.fonts.small, text).x + view.px(14);
    ImGui::SameLine(0, view.px(4));
    if (ImGui::GetCursorPosX() + wide > width) ImGui::NewLine();
}

void draw_rotation(const View& view, const Filmed& filmed, float width) {
    heading(view, "Turned", rotation_text(filmed.rotation_deg));
    bool first = true;
    for (std::optional<int> rotation :
         {std::optional<int>(), std::optional(0), std::optional(90), std::optional(180), std::optional(-90)}) {
        const std::string text = rotation_text(rotation);
        if (!std::exchange(first, false)) beside(view, text, width);
        if (button(view, text.c_str(),
                   {.text = text,
                    .hint = with_key("Each press of the key turns it further", view.hint(Action::turn_film)),
                    .on = filmed.rotation_deg == rotation,
                    .small = true}))
            view.ask(TurnFilm{rotation});
    }
}

void draw_tilt(const View& view, const Filmed& filmed, float width) {
    heading(view, "Tilt of the phone", tilt_text(filmed.tilt_deg));
    if (button(view, "estimated",
               {.text = "Estimated",
                .hint = with_key("The upright is found while measuring", view.hint(Action::tilt_estimated)),
                .on = !filmed.tilt_deg,
                .small = true}))
        view.ask(TiltFilm{std::nullopt});
    beside(view, "Level", width);
    if (button(view, "level",
               {.text = "Level",
                .hint = "The phone stood straight: nothing is turned or estimated",
                .on = filmed.tilt_deg == 0.0,
                .small = true}))
        view.ask(TiltFilm{0});
    struct Step {
        const char* text;
        double by;
        Action action;
    };
    constexpr Step steps[] = {{"5° left", -5, Action::leave},
                              {"0.5° left", -tilt_step_deg, Action::tilt_left},
                              {"0.5° right", tilt_step_deg, Action::tilt_right},
                              {"5° right", 5, Action::leave}};
    for (const Step& step : steps) {
        beside(view, step.text, width);
        const std::string key = step.action == Action::leave ? "" : view.hint(step.action);
        if (button(view, step.text, {.text = step.text, .hint = with_key("Turn the picture", key), .small = true}))
            view.ask(TiltFilm{filmed.tilt_deg.value_or(0) + step.by});
    }
    explain(
        view,
        "Turn it until walls and door frames stand upright, or say that they do. Otherwise the upright is estimated "
        "from how the athlete stands.");
}

void draw_speed(const View& view, const Filmed& filmed, float width) {
    heading(view, "True speed", time_scale_text(filmed.time_scale));
    struct Speed {
        const char* text;
        double scale;
    };
    constexpr Speed speeds[] = {{"As played", 1}, {"Half", 0.5}, {"Quarter", 0.25}, {"Eighth", 0.125}};
    bool first = true;
    for (const Speed& speed : speeds) {
        if (!std::exchange(first, false)) beside(view, speed.text, width);
        if (button(view, speed.text,
                   {.text = speed.text,
                    .hint = with_key("True seconds for each second played", view.hint(Action::film_speed)),
                    .on = std::abs(filmed.time_scale - speed.scale) < 1e-9,
                    .small = true}))
            view.ask(SetTimeScale{speed.scale});
    }
    beside(view, "another: 0.000000", width);
    double typed = view.scratch.time_scale.value_or(filmed.time_scale);
    ImGui::SetNextItemWidth(view.px(84));
    ImGui::PushFont(view.fonts.small);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {view.px(7), view.px(4)});
    if (ImGui::InputDouble("##scale", &typed, 0, 0, "%.4g")) view.scratch.time_scale = typed;
    ImGui::PopStyleVar();
    ImGui::PopFont();
    tip(view, "Any other: true seconds for each second played");
    if (ImGui::IsItemDeactivatedAfterEdit() && view.scratch.time_scale) {
        view.ask(SetTimeScale{*view.scratch.time_scale});
        view.scratch.time_scale.reset();
    }
    explain(view,
            "Slow motion: how many true seconds a second of the film stands for. A film taken at 120 pictures a second "
            "and stored at 30 is a quarter.");
}

void draw_mirrored(const View& view, const Filmed& filmed) {
    heading(view, "Left and right", filmed.mirrored ? "Swapped in the file" : "As in the room");
    if (button(view, "mirrored",
               {.text = "Mirrored film",
                .hint = with_key("Front cameras swap left and right", view.hint(Action::turn_mirrored_film)),
                .on = filmed.mirrored,
                .small = true}))
        view.ask(SetMirrored{!filmed.mirrored});
}

void draw_athlete(const View& view, const Filmed& filmed, float width) {
    heading(view, "The athlete", filmed.athlete_at ? "Shown by you" : "The program chooses");
    if (button(view, "who",
               {.text = "Who is the athlete",
                .hint = with_key("Then press on the athlete in the picture", view.hint(Action::show_athlete)),
                .on = view.state.desk.athlete_aim.has_value(),
                .small = true}))
        view.ask(AskForAthlete{!view.state.desk.athlete_aim});
    beside(view, "Let the program choose", width);
    if (filmed.athlete_at && button(view, "anyone",
                                    {.text = "Let the program choose",
                                     .hint = with_key("Take back who the athlete is", view.hint(Action::follow_anyone)),
                                     .small = true}))
        view.ask(FollowAnyone{});
    if (!filmed.athlete_at) ImGui::NewLine();
    explain(view,
            "With several people in the film the largest, most central one is followed. Choose a picture where "
            "nobody stands in front of the athlete.");
}

// Measuring again is offered beside the title, where it moves nothing that is being pressed.
void draw_title(const View& view, float width) {
    const float y = ImGui::GetCursorPosY();
    text_in(view.fonts.big, ink(view.colours.ink), "How it was filmed");
    const std::string& clip = view.state.clip->fingerprint;
    if (view.state.clip->measured || measuring_job(view.state, clip) != nullptr) return;
    const std::string text = "Measure again";
    ImGui::SetCursorPos({width - size_of(view.fonts.small, text).x - view.px(14), y + view.px(2)});
    if (button(view, "measure again",
               {.text = text,
                .hint = with_key(measured_hint(measured_mark(view.state, clip)), view.hint(Action::measure_clip)),
                .main = true,
                .small = true}))
        view.ask(AnalyseClip{clip});
}

}  // namespace

void draw_filmed(const View& view, float width) {
    const Filmed& filmed = view.state.clip->filmed;
    draw_title(view, width);
    if (!view.state.clip->in_library)
        return explain(view,
                       "This clip is not in a library, so how it was filmed cannot be kept. Add it to one first.");
    draw_rotation(view, filmed, width);
    draw_tilt(view, filmed, width);
    draw_speed(view, filmed, width);
    draw_mirrored(view, filmed);
    draw_athlete(view, filmed, width);
    gap(view.px(10));
    if (button(view, "close",
               {.text = "Back to the poses", .hint = with_key("Close this", view.hint(Action::show_filmed))}))
        view.ask(ShowFilmed{false});
}

}  // namespace quarterturn::app::views
