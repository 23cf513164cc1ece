#pragma once
/// An invented athlete's season: sessions, clips with analyses, notes and marks, all as plain data.
#include <cmath>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "base/fingerprint.hpp"
#include "journal/library.hpp"
#include "posing/analysis.hpp"
#include "share/session_view.hpp"

namespace quarterturn::test {

inline std::string fingerprint(int number) {
    std::string digits = std::to_string(number);
    return "sha256:" + std::string(64 - digits.size(), '0') + digits;
}

inline Date day(const char* text) {
    return parse_date(text).value();
}

inline constexpr TimeBase ticks{1, 90000};

struct HoldPlan {
    const char* pose;
    double seconds;
    double stillness = 0.02;
};

/// Holds one after the other with transitions of 2 s between; the first begins at 3 s. 30 pictures per second.
inline posing::Analysis made_up_analysis(const std::string& print, const std::vector<HoldPlan>& plan,
                                         posing::Method method = posing::Method::landmarks) {
    posing::Analysis analysis;
    analysis.clip.file = "clip.mp4";
    analysis.clip.fingerprint = print;
    analysis.clip.width = 432;
    analysis.clip.height = 768;
    analysis.clip.time_base = ticks;
    analysis.method = method;
    analysis.rule_set = "womens_figure";
    analysis.height_cm = 170;
    const bool body = method == posing::Method::landmarks;
    double at = 3;
    const auto add = [&](posing::SegmentKind kind, double length) -> posing::Segment& {
        posing::Segment segment;
        segment.kind = kind;
        segment.start_s = at;
        segment.end_s = at + length;
        segment.start_pts = std::llround(at * 90000);
        segment.end_pts = std::llround((at + length) * 90000);
        segment.confidence = 0.9;
        at += length;
        analysis.segments.push_back(segment);
        return analysis.segments.back();
    };
    for (const HoldPlan& planned : plan) {
        posing::Segment& hold = add(posing::SegmentKind::hold, planned.seconds);
        if (planned.pose != nullptr) hold.pose = planned.pose;
        if (planned.pose == nullptr) hold.pose_reason = "it looks like none of the division's poses";
        hold.pose_source = planned.pose == nullptr ? posing::PoseSource::none
                           : body                  ? posing::PoseSource::body
                                                   : posing::PoseSource::order;
        hold.pose_confidence = planned.pose == nullptr ? 0 : body ? 0.93 : 0.45;
        hold.stillness.value = planned.stillness;
        hold.steadiest_pts = hold.start_pts + 90000;
        const char* without = "measured from motion alone";
        hold.facing_deg = hold.twist.absolute = hold.twist.range = hold.twist.rms = hold.sway.rms =
            hold.sway.peak_to_peak = hold.sway.dominant_hz = {std::nullopt, without};
        if (body) {
            hold.facing_deg = {2.1, ""};
            hold.twist.absolute = {std::nullopt, "one camera from the front shows only the change"};
            hold.twist.range = {planned.stillness * 90, ""};
            hold.twist.rms = {planned.stillness * 30, ""};
            hold.sway.rms = {planned.stillness * 22, ""};
            hold.sway.peak_to_peak = {planned.stillness * 70, ""};
            hold.sway.dominant_hz = {0.5, ""};
            hold.checks.push_back({"shoulders_level", {1.1, ""}, "deg", 3.0, true, false, 0.8});
            hold.checks.push_back({"hands_matched", {3.6, ""}, "cm", 3.0, false, false, 0.7});
            hold.checks.push_back(
                {"heel_distance", {std::nullopt, "the heels are out of the picture"}, "cm", 7.6, {}, true, 0});
            hold.checks.push_back(
                {"stillness", {planned.stillness, ""}, "body heights/s", 0.02, planned.stillness <= 0.02, false, 0.9});
        }
        posing::Segment& way = add(posing::SegmentKind::transition, 2);
        way.turn_deg = {body ? std::optional<double>{88.5} : std::nullopt, body ? "" : without};
        if (body) way.steps = 2;
        if (body) way.checks.push_back({"transition_steps", {2, ""}, "steps", 2.0, true, false, 0.8});
        if (!body) way.steps_reason = without;
    }
    analysis.segments.pop_back();
    analysis.clip.duration_s = at;
    analysis.clip.frames = std::llround(at * 30);
    for (double t = 0; t < at; t += 1.0 / 15) {
        analysis.signals.t_s.push_back(t);
        analysis.signals.stillness.emplace_back(0.02 + 0.01 * std::sin(t));
        analysis.signals.facing_deg.emplace_back(body ? std::optional<double>{2} : std::nullopt);
        analysis.signals.twist_deg.emplace_back(body ? std::optional<double>{1.4 * std::sin(1.9 * t)} : std::nullopt);
        analysis.signals.sway_cm.emplace_back(body ? std::optional<double>{0.7 * std::sin(3.1 * t) + 0.05 * t}
                                                   : std::nullopt);
    }
    return analysis;
}

struct MadeUpSeason {
    journal::Library library;
    share::Analyses analyses;
    int next_id = 1;

    std::string id() {
        const std::string digits = std::to_string(next_id++);
        return "00000000-0000-7000-8000-" + std::string(12 - digits.size(), '0') + digits;
    }

    std::string add_session(const char* date) {
        journal::Session session;
        session.id = id();
        session.season = "season";
        session.date = day(date);
        session.heel_height_cm = 12;
        library.sessions.push_back(session);
        return session.id;
    }

    std::string add_clip(const std::string& session, const std::string& name, const std::vector<HoldPlan>& plan,
                         posing::Method method = posing::Method::landmarks, const std::string& path = "") {
        journal::Clip clip;
        clip.id = fingerprint(next_id++);
        clip.session = session;
        clip.original_name = name;
        clip.path = path.empty() ? "clips/" + name : path;
        library.clips.push_back(clip);
        analyses[clip.id] = std::make_shared<const posing::Analysis>(made_up_analysis(clip.id, plan, method));
        return clip.id;
    }

    journal::Note& add_note(const std::string& session, const std::string& clip, double second, const std::string& text,
                            const journal::Author& author) {
        journal::Note note;
        note.id = id();
        note.session = session;
        note.author = note.editor = author;
        note.text = text;
        if (!clip.empty()) note.clip = clip;
        if (!clip.empty()) note.moment = journal::ClipMoment{std::llround(second * 90000), {}, ticks};
        library.notes.push_back(note);
        return library.notes.back();
    }

    void mark(const std::string& session, const std::string& pose, const std::string& item, journal::Role role,
              int value) {
        journal::Mark mark;
        mark.session = session;
        mark.pose = pose;
        mark.item = item;
        mark.author = {role == journal::Role::coach ? "Odile Brandtwin" : "Tamsin Oakreed", role};
        mark.value = value;
        library.marks.push_back(mark);
    }
};

inline MadeUpSeason made_up_season() {
    MadeUpSeason made;
    made.library.title = "Practice";
    made.library.athlete.id = "athlete";
    made.library.athlete.name = "Tamsin Oakreed";
    made.library.athlete.barefoot_height_cm = 170;
    journal::Season season;
    season.id = "season";
    season.title = "Spring show";
    season.show_date = day("2026-05-30");
    season.rule_set = "womens_figure";
    made.library.seasons.push_back(season);
    return made;
}

}  // namespace quarterturn::test
