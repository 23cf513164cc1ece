#include "share/compare_films.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "journal/clip_files.hpp"
#include "media/fingerprint_of.hpp"
#include "share/confirmed_segments.hpp"
#include "share/measure_method.hpp"
#include "share/words.hpp"

namespace quarterturn::share {
namespace {

compare::Take take_of(std::string name, posing::Analysis analysis, const body::LandmarkSeries* series) {
    compare::Take take;
    take.name = std::move(name);
    if (series != nullptr) take.course = compare::shown_course(*series, analysis.clip);
    take.analysis = std::make_shared<const posing::Analysis>(std::move(analysis));
    return take;
}

/// Corrected holds in place of the measured ones.
posing::Analysis confirmed(const journal::Library& library, const journal::Clip& clip, posing::Analysis analysis) {
    std::vector<posing::Segment> segments;
    for (const SegmentView& view : confirmed_segments(analysis, library.corrections_of(clip.fingerprint())))
        segments.push_back(view.now);
    analysis.segments = std::move(segments);
    return analysis;
}

Result<std::filesystem::path> film_of(const journal::Store& store, const journal::Clip& clip,
                                      const MeasureSettings& settings) {
    return journal::find_clip_file(store.folder(), clip, {},
                                   [&](const auto& path) { return media::fingerprint_of(path, settings.stop); });
}

Result<ComparedFilm> compared_clip(const journal::Store& store, const journal::Library& library,
                                   const journal::Clip& clip, const MeasureSettings& wanted) {
    const auto film = film_of(store, clip, wanted);
    if (!film) return film.error();
    auto analysis = measure_clip(store, library, clip, wanted);
    if (!analysis) return analysis.error();
    std::optional<body::LandmarkSeries> series;
    if (analysis->method == posing::Method::landmarks) {
        series = cached_landmarks(store, library, clip, wanted);
        if (!series) {
            const auto known = knowledge_of(store, library, clip);
            if (!known) return known.error();
            MeasureSettings keeping = with_choices_of(library, wanted);
            keeping.cache_folder = store.cache_folder();
            auto seen = film_landmarks(*film, *known, keeping);
            if (!seen) return seen.error();
            series = std::move(*seen);
        }
    }
    return ComparedFilm{take_of(to_utf8(clip.original_name), confirmed(library, clip, std::move(*analysis)),
                                series ? &*series : nullptr),
                        *film, clip.rotation_deg};
}

/// Share of the work of one clip among several.
MeasureSettings part_of(const MeasureSettings& settings, std::size_t rank, std::size_t count) {
    MeasureSettings part = settings;
    if (settings.progress)
        part.progress = [progress = settings.progress, rank, count](double share) {
            progress((static_cast<double>(rank) + share) / static_cast<double>(count));
        };
    return part;
}

std::string session_title(const journal::Library& library, const journal::Session& session) {
    const auto* season = library.find_season(session.season);
    if (season == nullptr) return date_words(session.date);
    return fmt::format("{}, {}", date_words(session.date), weeks_words(days_between(session.date, season->show_date)));
}

std::optional<std::size_t> rank_of(const ComparedSide& side, const std::string& fingerprint) {
    for (std::size_t i = 0; i < side.films.size(); ++i)
        if (side.films[i].take.analysis->clip.fingerprint == fingerprint) return i;
    return std::nullopt;
}

/// The hold that shares most time with the pinned one.
std::optional<compare::HoldPlace> pinned_hold(const ComparedSide& side, std::size_t film,
                                              const journal::PinPlace& place) {
    const posing::Analysis& analysis = *side.films[film].take.analysis;
    const double from = true_seconds(analysis.clip, {place.hold->start, place.base});
    const double to = true_seconds(analysis.clip, {place.hold->end, place.base});
    std::optional<compare::HoldPlace> best;
    double most = 0;
    for (std::size_t s = 0; s < analysis.segments.size(); ++s) {
        const posing::Segment& segment = analysis.segments[s];
        const double shared = std::min(segment.end_s, to) - std::max(segment.start_s, from);
        if (segment.kind != posing::SegmentKind::hold || shared <= most) continue;
        most = shared;
        best = compare::HoldPlace{film, s};
    }
    return best;
}

void add_pin(const journal::Pin& pin, const ComparedSide& now, const ComparedSide& before, compare::Pins& pins) {
    const auto a = rank_of(now, pin.now.clip), b = rank_of(before, pin.before.clip);
    if (!a || !b) return;
    if (pin.kind == journal::PinKind::moments) {
        const auto seconds = [](const ComparedSide& side, std::size_t film, const journal::PinPlace& place) {
            return true_seconds(side.films[film].take.analysis->clip, {*place.at, place.base});
        };
        pins.moments.push_back({*a, *b, seconds(now, *a, pin.now), seconds(before, *b, pin.before)});
        return;
    }
    compare::PairPin pair;
    if (pin.now.hold) pair.now = pinned_hold(now, *a, pin.now);
    if (pin.before.hold) pair.before = pinned_hold(before, *b, pin.before);
    const bool found =
        pin.now.hold.has_value() == pair.now.has_value() && pin.before.hold.has_value() == pair.before.has_value();
    if (found) pins.pairs.push_back(pair);
}

compare::Occasion occasion_of(const journal::Store& store, const journal::Library& library,
                              const journal::Session& session, const MeasureSettings& settings) {
    compare::Occasion out;
    const auto* season = library.find_season(session.season);
    if (season != nullptr) {
        out.division = season->rule_set;
        out.days_out = days_between(session.date, season->show_date);
    }
    std::set<std::string> poses;
    for (const journal::Clip* clip : library.clips_of(session.id)) {
        const auto analysis = clip->counts ? cached_analysis(store, library, *clip, settings) : std::nullopt;
        if (!analysis) continue;
        for (const SegmentView& view : confirmed_segments(*analysis, library.corrections_of(clip->fingerprint())))
            if (view.is_hold() && view.now.pose) poses.insert(*view.now.pose);
    }
    out.poses.assign(poses.begin(), poses.end());
    return out;
}

}  // namespace

compare::Takes ComparedSide::takes() const {
    compare::Takes all;
    for (const ComparedFilm& film : films) all.push_back(film.take);
    return all;
}

std::vector<std::string> ComparedSide::fingerprints() const {
    std::vector<std::string> all;
    for (const ComparedFilm& film : films) all.push_back(film.take.analysis->clip.fingerprint);
    return all;
}

Result<ComparedSide> compared_film(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                   const MeasureSettings& settings) {
    const auto method = method_for(settings);
    if (!method) return method.error();
    ComparedSide side{to_utf8(film.filename().string()), {}};
    if (*method == posing::Method::motion) {
        auto analysis = measure_film(film, knowledge, settings);
        if (!analysis) return analysis.error();
        side.films.push_back({take_of(side.title, std::move(*analysis), nullptr), film, knowledge.rotation_deg});
        return side;
    }
    const auto read = read_film(film, knowledge, settings);
    if (!read) return read.error();
    const auto seen = look_at(film, *read, settings);
    if (!seen) return seen.error();
    side.films.push_back(
        {take_of(side.title, analyse_seen(*read, *seen, knowledge), &seen->series), film, knowledge.rotation_deg});
    return side;
}

Result<ComparedSide> compared_clips(const journal::Store& store, const journal::Library& library,
                                    const std::vector<const journal::Clip*>& clips, const MeasureSettings& settings) {
    ComparedSide side;
    for (std::size_t i = 0; i < clips.size(); ++i) {
        auto film = compared_clip(store, library, *clips[i], part_of(settings, i, clips.size()));
        if (!film) return film.error();
        side.films.push_back(std::move(*film));
    }
    if (const auto* session = clips.empty() ? nullptr : library.find_session(clips.front()->session))
        side.title = session_title(library, *session);
    return side;
}

Result<ComparedSide> compared_session(const journal::Store& store, const journal::Library& library,
                                      const journal::Session& session, const MeasureSettings& settings) {
    std::vector<const journal::Clip*> clips;
    for (const journal::Clip* clip : library.clips_of(session.id))
        if (clip->counts) clips.push_back(clip);
    if (clips.empty())
        return Error{ErrorCode::not_found,
                     fmt::format("The session of {} has no clip that counts.", date_words(session.date))};
    return compared_clips(store, library, clips, settings);
}

ComparedSide cached_session(const journal::Store& store, const journal::Library& library,
                            const journal::Session& session, const MeasureSettings& settings) {
    ComparedSide side{session_title(library, session), {}};
    for (const journal::Clip* clip : library.clips_of(session.id)) {
        auto analysis = clip->counts ? cached_analysis(store, library, *clip, settings) : std::nullopt;
        if (!analysis) continue;
        const auto film = film_of(store, *clip, settings);
        if (!film) continue;
        const auto series = cached_landmarks(store, library, *clip, settings);
        side.films.push_back({take_of(to_utf8(clip->original_name), confirmed(library, *clip, std::move(*analysis)),
                                      series ? &*series : nullptr),
                              *film, clip->rotation_deg});
    }
    return side;
}

compare::Pins pins_between(const journal::Library& library, const ComparedSide& now, const ComparedSide& before) {
    compare::Pins pins;
    for (const journal::Pin& pin : library.pins)
        if (!pin.removed) add_pin(pin, now, before, pins);
    return pins;
}

Result<rules::RuleSet> rules_of_side(const journal::Store& store, const journal::Library& library,
                                     const ComparedSide& side) {
    const auto* clip =
        side.films.empty() ? nullptr : library.find_clip(side.films.front().take.analysis->clip.fingerprint);
    const auto* session = clip != nullptr ? library.find_session(clip->session) : nullptr;
    const auto* season = session != nullptr ? library.find_season(session->season) : nullptr;
    if (season == nullptr) return Error{ErrorCode::not_found, "The film is no clip of this library."};
    return rule_set_of(store, *season);
}

std::vector<ProposedMatch> proposed_matches(const journal::Store& store, const journal::Library& library,
                                            const journal::Session& session, const MeasureSettings& settings) {
    const auto* season = library.find_season(session.season);
    if (season == nullptr) return {};
    std::vector<const journal::Session*> sessions;
    std::vector<compare::Occasion> candidates;
    for (const journal::Session& other : library.sessions) {
        const auto* earlier = library.find_season(other.season);
        if (earlier == nullptr || days_between(earlier->show_date, season->show_date) <= 0) continue;
        sessions.push_back(&other);
        candidates.push_back(occasion_of(store, library, other, settings));
    }
    const compare::Occasion now = occasion_of(store, library, session, settings);
    std::vector<ProposedMatch> out;
    for (const compare::Match& match : compare::rank_matches(now, candidates)) {
        const compare::Occasion& other = candidates[match.candidate];
        std::string reason = fmt::format(
            "{}: {} division, {} (this one: {})", date_words(sessions[match.candidate]->date),
            match.same_division ? "same" : "another", weeks_words(other.days_out), weeks_words(now.days_out));
        if (!now.poses.empty()) reason += fmt::format(", {} of {} poses", match.poses_shared, now.poses.size());
        out.push_back({sessions[match.candidate]->id, match, std::move(reason)});
    }
    return out;
}

}  // namespace quarterturn::share
