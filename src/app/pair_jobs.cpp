#include "app/pair_jobs.hpp"

#include "compare/light_match.hpp"

namespace quarterturn::app {
namespace {

/// Half of the work.
share::MeasureSettings half_of(const Progress& progress, const std::stop_token& stop, double from) {
    share::MeasureSettings settings;
    settings.stop = stop;
    settings.progress = [progress, from](double share) { progress(from + share / 2); };
    return settings;
}

Result<share::ComparedSide> side_of(const journal::Store& store, const journal::Library& library,
                                    const PairChoice& choice, const share::MeasureSettings& settings) {
    const auto* session = library.find_session(choice.session);
    if (session == nullptr) return Error{ErrorCode::not_found, "This session is no longer in the library."};
    if (!choice.clip) return share::compared_session(store, library, *session, settings);
    const auto* clip = library.find_clip(*choice.clip);
    if (clip == nullptr) return Error{ErrorCode::not_found, "This clip is no longer in the library."};
    return share::compared_clips(store, library, {clip}, settings);
}

void compare_now(PairMade& made, const journal::Library& library) {
    compare::ComparisonSettings settings;
    settings.rules = made.rules;
    settings.silhouettes = !library.athlete.hide_body_numbers;
    settings.pins = share::pins_between(library, made.now, made.before);
    made.made = compare::compare_takes(made.now.takes(), made.before.takes(), settings);
    made.words = compare::summary_of(made.made, made.rules ? &*made.rules : nullptr);
}

Result<std::shared_ptr<const PairMade>> both_sides(const Request::Compare& request, const journal::Library& library,
                                                   const std::filesystem::path& folder, const Progress& progress,
                                                   const std::stop_token& stop) {
    if (request.kept) {
        auto again = std::make_shared<PairMade>(*request.kept);
        compare_now(*again, library);
        return std::shared_ptr<const PairMade>(std::move(again));
    }
    const auto store = journal::Store::open(folder);
    if (!store) return store.error();
    auto made = std::make_shared<PairMade>();
    made->now_choice = request.now;
    const auto* session = library.find_session(request.now.session);
    if (session == nullptr) return Error{ErrorCode::not_found, "This session is no longer in the library."};
    auto now = side_of(*store, library, request.now, half_of(progress, stop, 0));
    if (!now) return now.error();
    // After measuring, so that the poses of this session are known.
    made->proposed = share::proposed_matches(*store, library, *session, {});
    if (!request.before && made->proposed.empty())
        return Error{ErrorCode::not_found,
                     "There is no earlier season in this library. Choose another session to compare with."};
    made->before_choice = request.before ? *request.before : PairChoice{made->proposed.front().session, std::nullopt};
    auto before = side_of(*store, library, made->before_choice, half_of(progress, stop, 0.5));
    if (!before) return before.error();
    // Again: the earlier poses are known only now.
    made->proposed = share::proposed_matches(*store, library, *session, {});
    made->now = std::move(*now);
    made->before = std::move(*before);
    if (auto rules = share::rules_of_side(*store, library, made->now)) made->rules = std::move(*rules);
    compare_now(*made, library);
    return std::shared_ptr<const PairMade>(std::move(made));
}

struct Opened {
    media::ClipInfo info;
    std::shared_ptr<const media::FrameIndex> index;
    std::shared_ptr<FilmSource> source;
};

Result<Opened> open(const share::ComparedFilm& film) {
    Opened out;
    auto info = media::probe(film.film);
    if (!info) return info.error();
    out.info = std::move(*info);
    if (film.rotation_deg) out.info.rotation_deg = *film.rotation_deg;
    auto reader = media::ExactReader::open(film.film, {.threads = 2, .cache_mib = 64});
    if (!reader) return reader.error();
    out.index = std::make_shared<const media::FrameIndex>(reader->index());
    out.source = std::make_shared<ReaderSource>(std::move(*reader));
    return out;
}

/// The picture at a moment, as it is shown and mirrored back, at most 480 rows.
std::optional<media::Image> still(const share::ComparedFilm& film, std::int64_t pts) {
    auto reader = media::ExactReader::open(film.film, {.threads = 1, .cache_mib = 32});
    if (!reader) return std::nullopt;
    const auto rank = reader->index().rank_nearest(pts);
    const auto picture = rank ? reader->frame_of_rank(*rank) : Result<media::Picture>(Error{});
    if (!picture) return std::nullopt;
    auto image = media::to_rgb(*picture, reader->info().turned_to(film.rotation_deg), 480);
    if (!image) return std::nullopt;
    if (!film.take.analysis->clip.mirrored) return std::move(*image);
    return compare::laid_over(*image, {-1, 0, static_cast<double>(image->width), 0, 1, 0}, image->width, image->height);
}

}  // namespace

void compare_sides(NewsBox& news, const Request::Compare& request, const journal::Library& library,
                   const std::filesystem::path& folder, const Progress& progress, const std::stop_token& stop) {
    auto made = both_sides(request, library, folder, progress, stop);
    PairCompared out{request.number, nullptr, {}};
    if (made)
        out.made = std::move(*made);
    else
        out.trouble = made.error().code == ErrorCode::cancelled ? "Comparing was stopped." : made.error().detail;
    news.post(std::move(out));
}

void open_pair_films(NewsBox& news, const Request::OpenPairFilms& request, const journal::Library& library,
                     const std::stop_token& stop) {
    const PairMade& made = *request.made;
    auto now = open(made.now.films[request.now_take]);
    auto before = now ? open(made.before.films[request.before_take]) : Result<Opened>(now.error());
    if (!before) return news.post(Said{before.error().detail, true});
    if (stop.stop_requested()) return;
    std::vector<compare::Pair> pairs;
    for (const auto& pair : made.made.pairs) pairs.push_back(pair.pair);
    const auto pins = share::pins_between(library, made.now, made.before);
    auto map =
        compare::map_times(made.made.now, request.now_take, made.made.before, request.before_take, pairs, pins.moments);
    PairFilms films;
    films.now_take = request.now_take;
    films.before_take = request.before_take;
    films.now_index = now->index;
    films.before_index = before->index;
    films.now_info = std::move(now->info);
    films.before_info = std::move(before->info);
    films.sync = std::make_shared<const compare::Sync>(made.made.now, request.now_take, made.made.before,
                                                       request.before_take, pairs, std::move(map));
    news.post(PairFilmsOpened{request.made, std::move(films), now->source, before->source});
}

void match_pair_light(NewsBox& news, const Request::MatchLight& request, const std::stop_token& stop) {
    const PairMade& made = *request.made;
    const compare::Pair& pair = made.made.pairs[request.pair].pair;
    const auto& now_film = made.now.films[pair.now.take];
    const auto& before_film = made.before.films[pair.before.take];
    const auto now_body = compare::still_body(now_film.take, pair.now_still_s);
    const auto before_body = compare::still_body(before_film.take, pair.before_still_s);
    const auto now = now_body && before_body ? still(now_film, pair.now_still_pts) : std::nullopt;
    const auto before = now && !stop.stop_requested() ? still(before_film, pair.before_still_pts) : std::nullopt;
    LightMatched out{request.made, request.pair, std::nullopt};
    if (before) {
        const auto scale = [](const media::Image& image, const share::ComparedFilm& film) {
            return static_cast<double>(image.height) / std::max(1, film.take.course->height);
        };
        out.gains = compare::match_light(*now, *now_body, scale(*now, now_film), *before, *before_body,
                                         scale(*before, before_film));
    }
    news.post(std::move(out));
}

}  // namespace quarterturn::app
