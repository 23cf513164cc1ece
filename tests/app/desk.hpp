#pragma once
/// A state with a clip of two holds open in a library that exists in memory only.
#include <memory>

#include "app/apply.hpp"
#include "app/news.hpp"
#include "rules/rule_sets.hpp"

namespace quarterturn::app {

/// 20 s at 30 pictures a second, 1/1000 s ticks; holds 2-8 s (front) and 10-16 s (left side), a transition between.
inline ReviewState desk() {
    ReviewState state;
    state.library.emplace();
    state.library->athlete.name = "Mara";
    journal::Season season;
    season.id = "season";
    season.show_date = *parse_date("2026-05-30");
    season.rule_set = "womens_figure";
    journal::Session session;
    session.id = "session";
    session.season = "season";
    journal::Clip clip;
    clip.id = "sha256:" + std::string(64, 'a');
    clip.session = "session";
    state.library->seasons = {season};
    state.library->sessions = {session};
    state.library->clips = {clip};

    auto index = std::make_shared<media::FrameIndex>();
    index->time_base = {1, 1000};
    for (int i = 0; i < 600; ++i) index->pictures.push_back({i * 1000 / 30, i * 1000 / 30, i % 30 == 0});
    OpenClip open;
    open.fingerprint = clip.id;
    open.index = index;
    open.in_library = true;
    open.session = "session";
    open.filmed = filmed_of(clip);
    open.info.width = 432;
    open.info.height = 768;
    open.rules = *rules::bundled_rule_set("womens_figure");
    posing::Analysis analysis;
    const auto add = [&](posing::SegmentKind kind, std::int64_t from, std::int64_t to,
                         std::optional<std::string> pose) {
        posing::Segment segment;
        segment.kind = kind;
        segment.start_pts = from;
        segment.end_pts = to;
        segment.start_s = static_cast<double>(from) / 1000;
        segment.end_s = static_cast<double>(to) / 1000;
        segment.pose = std::move(pose);
        segment.steadiest_pts = (from + to) / 2;
        analysis.segments.push_back(segment);
    };
    add(posing::SegmentKind::hold, 2000, 8000, "quarter_front");
    add(posing::SegmentKind::transition, 8000, 10000, std::nullopt);
    add(posing::SegmentKind::hold, 10000, 16000, "quarter_left_side");
    open.measured = analysis;
    absorb(state, FilmOpened{std::move(open), nullptr});
    return state;
}

/// What was asked of the outside since the last call, of one kind.
template <class Kind>
std::vector<Kind> take(ReviewState& state) {
    std::vector<Kind> found;
    for (const auto& request : std::exchange(state.requests, {}))
        if (const auto* one = std::get_if<Kind>(&request)) found.push_back(*one);
    return found;
}

}  // namespace quarterturn::app
