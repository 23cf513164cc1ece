#include "app/pair_runner.hpp"

#include "app/apply.hpp"
#include "app/body_outline.hpp"
#include "app/pair_jobs.hpp"

namespace quarterturn::app {
namespace {

/// Absent where the body was not seen.
std::optional<OutlineWanted> outline_wanted(const share::ComparedFilm& film, std::int64_t pts) {
    if (!film.take.course) return std::nullopt;
    const posing::ClipFacts& clip = film.take.analysis->clip;
    const auto body = body_at(*film.take.course, compare::seconds_of(clip, pts));
    if (!body) return std::nullopt;
    const auto hips = body::middle((*body)[body::Joint::left_hip], (*body)[body::Joint::right_hip]);
    return OutlineWanted{film.film, pts, film.rotation_deg, clip.mirrored, body::Point{hips.x, hips.y}, nullptr};
}

}  // namespace

PairRunner::PairRunner(NewsBox& news, std::function<void()> wake)
    : news_(news), wake_(std::move(wake)), looking_(news, false), tracing_(news, false), comparing_(news, true) {}

void PairRunner::stop() {
    player_.reset();
    looking_.cancel_all();
    tracing_.cancel_all();
    comparing_.cancel_all();
}

void PairRunner::compare(const Request::Compare& request, const ReviewState& state) {
    comparing_.cancel(comparing_now_);
    comparing_now_ =
        comparing_.add(JobKind::comparing, "Comparing", "",
                       [this, request, library = std::make_shared<const journal::Library>(*state.library),
                        folder = state.library_folder](const std::stop_token& stop, const Progress& progress) {
                           compare_sides(news_, request, *library, folder, progress, stop);
                       });
}

void PairRunner::play(const ReviewState& state) {
    const PairDesk& desk = state.pair;
    if (!player_ || !desk.films) return;
    const double from = desk.clock_s, to = desk.duration_s();
    const auto at = [&](double clock) { return desk.films->sync->at(clock, desk.sync, desk.offset); };
    player_->play(
        schedule(
            *desk.films->now_index, desk.now_clip(), [&](double s) { return at(s).now_s; }, from, to),
        schedule(
            *desk.films->before_index, desk.before_clip(), [&](double s) { return at(s).before_s; }, from, to),
        from, to, desk.speed);
}

bool PairRunner::carry_out(const Request::Any& request, ReviewState& state) {
    if (const auto* r = std::get_if<Request::Compare>(&request)) {
        if (state.library) compare(*r, state);
    } else if (const auto* open = std::get_if<Request::OpenPairFilms>(&request)) {
        looking_.cancel_all();
        looking_.add(JobKind::opening, "", "",
                     [this, r = *open, library = std::make_shared<const journal::Library>(*state.library)](
                         const std::stop_token& stop, const Progress&) { open_pair_films(news_, r, *library, stop); });
    } else if (const auto* light = std::get_if<Request::MatchLight>(&request)) {
        looking_.add(JobKind::stills, "", "", [this, r = *light](const std::stop_token& stop, const Progress&) {
            match_pair_light(news_, r, stop);
        });
    } else if (const auto* trace = std::get_if<Request::TraceOutline>(&request)) {
        tracing_.cancel_all();
        tracing_.add(JobKind::stills, "", "",
                     [this, r = *trace, finder = outline_finder_](const std::stop_token& stop, const Progress&) {
                         const auto wanted = outline_wanted(r.made->before.films[r.before_take], r.pts);
                         if (!wanted) return;
                         auto lines = finder->find(*wanted);
                         if (!stop.stop_requested() && lines && !lines->empty())
                             news_.post(OutlineTraced{r.made, {r.before_take, r.pts, std::move(*lines)}});
                     });
    } else if (const auto* show = std::get_if<Request::ShowPair>(&request)) {
        if (player_) player_->show(show->now_pts, show->before_pts);
    } else if (std::holds_alternative<Request::PlayPair>(request)) {
        play(state);
    } else if (std::holds_alternative<Request::PausePair>(request)) {
        if (player_) player_->pause();
    } else {
        return false;
    }
    return true;
}

void PairRunner::opened(PairFilmsOpened& news) {
    // Ending the old player may wait for a picture being decoded: not on the window's time.
    if (player_)
        looking_.add(
            JobKind::opening, "", "",
            [old = std::shared_ptr<PairPlayer>(std::move(player_))](auto, const auto&) mutable { old.reset(); });
    PairPlayerSettings settings;
    settings.wake = wake_;
    player_ = std::make_unique<PairPlayer>(std::move(news.now), std::move(news.before), std::move(settings));
    changed_ = true;
}

PairRunner::Pictures PairRunner::turn(ReviewState& state) {
    Pictures out;
    out.changed = std::exchange(changed_, false);
    if (!player_) return out;
    PairPlayer::Now now = player_->poll();
    out.now = std::move(now.now);
    out.before = std::move(now.before);
    if (now.clock_s && state.pair.running) pair_clock_moved(state, *now.clock_s);
    if (now.ended) state.pair.running = false;
    if (now.error) tell(state, now.error->detail, true);
    return out;
}

double PairRunner::nap(const ReviewState& state) {
    if (state.place != Place::pair) return 0.25;
    if (!state.pair.running) return state.pair.look == PairLook::blink ? 0.05 : 0.25;
    const auto next = player_ ? player_->next_due_in() : std::nullopt;
    return next ? std::min(0.25, *next) : 0.004;
}

}  // namespace quarterturn::app
