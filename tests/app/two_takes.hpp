#pragma once
/// A state in which two films are compared, without a file: what the jobs would bring is made up.
#include "app/pair.hpp"
#include "desk.hpp"

namespace quarterturn::app {

/// 20 s with holds 2-8 s (front) and 10-16 s (left side), `slower` times as long, steadiest in the middle.
inline compare::Take take_of(const std::string& fingerprint, double slower) {
    posing::Analysis analysis;
    analysis.clip.file = fingerprint + ".mp4";
    analysis.clip.fingerprint = fingerprint;
    analysis.clip.time_base = {1, 1000};
    analysis.clip.duration_s = 20 * slower;
    const auto add = [&](posing::SegmentKind kind, double from, double to, std::optional<std::string> pose) {
        posing::Segment segment;
        segment.kind = kind;
        segment.start_s = from * slower;
        segment.end_s = to * slower;
        segment.start_pts = static_cast<std::int64_t>(from * slower * 1000);
        segment.end_pts = static_cast<std::int64_t>(to * slower * 1000);
        segment.steadiest_pts = (segment.start_pts + segment.end_pts) / 2;
        segment.pose = std::move(pose);
        analysis.segments.push_back(segment);
    };
    add(posing::SegmentKind::hold, 2, 8, "quarter_front");
    add(posing::SegmentKind::transition, 8, 10, std::nullopt);
    add(posing::SegmentKind::hold, 10, 16, "quarter_left_side");
    compare::Take made;
    made.name = analysis.clip.file;
    made.analysis = std::make_shared<const posing::Analysis>(std::move(analysis));
    return made;
}

inline std::shared_ptr<const media::FrameIndex> index_of(double seconds) {
    auto index = std::make_shared<media::FrameIndex>();
    index->time_base = {1, 1000};
    for (int i = 0; i < static_cast<int>(seconds * 25); ++i) index->pictures.push_back({i * 40, i * 40, i % 25 == 0});
    return index;
}

inline const std::string before_clip = "sha256:" + std::string(64, 'b');

/// desk() with an earlier session compared with; both films are open.
struct TwoTakes {
    ReviewState state = desk();
    compare::MirrorOffer mirror;  ///< of the next comparison

    explicit TwoTakes(compare::MirrorOffer offer = {}) : mirror(std::move(offer)) {
        journal::Season season = state.library->seasons.front();
        season.id = "earlier";
        season.show_date = *parse_date("2025-05-31");
        journal::Session session = state.library->sessions.front();
        session.id = "before";
        session.season = "earlier";
        journal::Clip clip = state.library->clips.front();
        clip.id = before_clip;
        clip.session = "before";
        state.library->seasons.insert(state.library->seasons.begin(), season);
        state.library->sessions.insert(state.library->sessions.begin(), session);
        state.library->clips.push_back(clip);
        (void)apply(state, GoTo{Place::pair}).has_value();
        answer();
    }
    /// What the jobs would bring back for the comparison asked for last. @return whether one was asked for
    bool answer() {
        bool asked = false;
        for (int round = 0; round < 4; ++round)
            for (const auto& request : std::exchange(state.requests, {})) {
                if (const auto* c = std::get_if<Request::Compare>(&request)) asked = true, compared(*c);
                if (const auto* o = std::get_if<Request::OpenPairFilms>(&request)) open(*o);
                if (const auto* s = std::get_if<Request::ShowPair>(&request)) shown = *s;
            }
        return asked;
    }
    void compared(const Request::Compare& request) {
        auto made = std::make_shared<PairMade>();
        made->now_choice = request.now;
        made->before_choice = {"before", std::nullopt};
        made->now.films.push_back({take_of(state.library->clips.front().id, 1), "", std::nullopt});
        made->before.films.push_back({take_of(before_clip, 1.5), "", std::nullopt});
        compare::ComparisonSettings settings;
        settings.pins = share::pins_between(*state.library, made->now, made->before);
        settings.silhouettes = !state.library->athlete.hide_body_numbers;
        made->made = compare::compare_takes(made->now.takes(), made->before.takes(), settings);
        made->made.mirror = mirror;
        made->words = compare::summary_of(made->made);
        absorb(state, PairCompared{request.number, made, ""});
    }
    void open(const Request::OpenPairFilms& request) {
        const auto& made = request.made->made;
        std::vector<compare::Pair> pairs;
        for (const auto& pair : made.pairs) pairs.push_back(pair.pair);
        const auto pins = share::pins_between(*state.library, request.made->now, request.made->before);
        PairFilms films;
        films.now_index = index_of(20);
        films.before_index = index_of(30);
        films.now_info.width = films.before_info.width = 432;
        films.now_info.height = films.before_info.height = 768;
        films.sync = std::make_shared<const compare::Sync>(
            made.now, 0, made.before, 0, pairs, compare::map_times(made.now, 0, made.before, 0, pairs, pins.moments));
        absorb(state, PairFilmsOpened{request.made, films, nullptr, nullptr});
    }
    Status press(Action action) { return apply(state, Press{action}); }
    Request::ShowPair shown{};
};

}  // namespace quarterturn::app
