#include "app/news.hpp"

#include <algorithm>

#include "app/apply.hpp"

namespace quarterturn::app {
namespace {

void take_in(ReviewState& state, FilmOpened news) {
    state.clip = std::move(news.clip);
    state.playing = {};
    state.draft.reset();
    const Overlays overlays = state.desk.overlays;
    const bool full_screen = state.desk.full_screen, filmed_open = state.desk.filmed_open;
    state.desk = {};
    state.desk.overlays = overlays;
    state.desk.full_screen = full_screen;
    state.desk.ribbon = {0, state.clip->duration_s()};
    state.desk.filmed_open = filmed_open;
    state.desk.zooming.mirrored = state.clip->filmed.mirrored;
    state.desk.zooming.tilt_deg = state.clip->filmed.tilt_deg.value_or(0);
    state.place = Place::clip;
    refresh_filmed(state);  // changed while it was being opened
    refresh_spans(state);
    if (state.clip->index && !state.clip->index->pictures.empty())
        go_to(state, state.clip->index->pictures.front().pts);
    for (const std::string& warning : state.clip->info.warnings) tell(state, warning);
    if (!state.clip->index || state.clip->index->pictures.empty())
        tell(state, "No picture of this film could be read.", true);
}

void take_in(ReviewState& state, LibraryRead news) {
    const bool same = state.library && state.library_folder == news.folder;
    if (!same) {
        state.pending.clear();
        state.history = {};
        state.season.clear();
        state.session.clear();
        state.library_clip.clear();
        state.moving.reset();
        state.measured.clear();
    }
    state.library_folder = news.folder;
    state.library = std::move(news.library);
    std::erase_if(state.pending, [&](const Pending& pending) { return pending.number <= news.saved_up_to; });
    for (const Pending& pending : state.pending)
        for (const Change& change : pending.edit.changes) apply_change(*state.library, change);
    if (state.season.empty() || !state.library->find_season(state.season))
        state.season = state.library->seasons.empty() ? "" : state.library->seasons.back().id;
    if (state.clip) {
        const auto* clip = state.library->find_clip(state.clip->fingerprint);
        state.clip->in_library = clip != nullptr;
        refresh_filmed(state);
    }
    if (state.moving && !state.library->find_clip(state.moving->clip)) state.moving.reset();
    state.requests.push_back(Request::CheckMeasured{});
    if (state.desk.note && !state.draft && !state.library->find_note(*state.desk.note)) state.desk.note.reset();
    if (!state.desk.drag) refresh_spans(state);
    if (!same) state.pair = {};
    refresh_pair(state);
    if (news.opened) {
        state.place = Place::library;
        for (const auto& unreadable : state.library->unreadable)
            tell(state, "Left out: " + unreadable.error.detail, true);
    }
}

void take_in(ReviewState& state, const Renamed& news) {
    state.history.rename(news.from, news.to);
    for (Pending& pending : state.pending)
        for (Change& change : pending.edit.changes) rename_entry(change, news.from, news.to);
    if (state.desk.note == news.from) state.desk.note = news.to;
    if (state.draft && state.draft->note.id == news.from) state.draft->note.id = news.to;
    if (state.season == news.from) state.season = news.to;
    if (!state.library) return;
    for (auto& season : state.library->seasons)
        if (season.id == news.from) season.id = news.to;
    for (auto& correction : state.library->hold_corrections)
        if (correction.id == news.from) correction.id = news.to;
    for (auto& pin : state.library->pins)
        if (pin.id == news.from) pin.id = news.to;
    for (auto& note : state.library->notes)
        if (note.id == news.from) note.id = news.to;
}

void take_in(ReviewState& state, const SaveFailed& news) {
    tell(state, news.error.detail, true);
    std::erase_if(state.pending, [&](const Pending& pending) { return pending.number == news.number; });
}

void take_in(ReviewState& state, const SaveWaits& news) {
    state.save_trouble = news.error.detail;
}

void take_in(ReviewState& state, const SaveDone&) {
    state.save_trouble.reset();
    state.leave_anyway = false;
    tell(state, "Everything is on disk now.");
}

void take_in(ReviewState& state, const JobMoved& news) {
    const auto found =
        std::find_if(state.jobs.begin(), state.jobs.end(), [&](const JobLine& job) { return job.id == news.job.id; });
    if (found == state.jobs.end())
        state.jobs.push_back(news.job);
    else
        *found = news.job;
}

void take_in(ReviewState& state, const JobEnded& news) {
    // Whatever it was about, clips may have been measured on the way.
    if (state.library) state.requests.push_back(Request::CheckMeasured{});
    std::erase_if(state.jobs, [&](const JobLine& job) { return job.id == news.job; });
}

void take_in(ReviewState& state, Measured news) {
    if (!state.clip || state.clip->fingerprint != news.fingerprint || state.clip->filmed != news.filmed) return;
    state.clip->measured = std::move(news.analysis);
    refresh_spans(state);
}

void take_in(ReviewState& state, LookedUp news) {
    if (!state.clip || state.clip->fingerprint != news.fingerprint || state.clip->filmed != news.filmed) return;
    if (news.rules) state.clip->rules = std::move(news.rules);
    if (!news.analysis) return;
    state.clip->measured = std::move(news.analysis);
    refresh_spans(state);
}

void take_in(ReviewState& state, MeasuredChecked news) {
    state.measured = std::move(news.states);
}

void take_in(ReviewState& state, JointsFound news) {
    if (state.clip && state.clip->fingerprint == news.fingerprint && state.clip->filmed == news.filmed)
        state.clip->joints = std::move(news.joints);
}

void take_in(ReviewState& state, OutlineFound news) {
    if (state.clip && state.clip->file == news.file) state.clip->outline = std::move(news.outline);
}

void take_in(ReviewState& state, const Fingerprinted& news) {
    if (!state.clip || state.clip->file != news.file) return;
    state.clip->fingerprint = news.fingerprint;
    const auto* clip = state.library ? state.library->find_clip(news.fingerprint) : nullptr;
    state.clip->in_library = clip != nullptr;
    refresh_filmed(state);
    refresh_spans(state);
}

void take_in(ReviewState& state, Said news) {
    tell(state, std::move(news.text), news.trouble);
}

void take_in(ReviewState&, const StillMade&) {}

void take_in(ReviewState& state, const PairCompared& news) {
    pair_compared(state, news.number, news.made, news.trouble);
}

void take_in(ReviewState& state, const PairFilmsOpened& news) {
    if (state.pair.made != news.made) return;
    state.pair.films = news.films;
    show_pair(state);
}

void take_in(ReviewState& state, OutlineTraced news) {
    if (state.pair.made == news.made) state.pair.traced = std::move(news.outline);
}

void take_in(ReviewState& state, const LightMatched& news) {
    if (state.pair.made != news.made || state.pair.pair != news.pair) return;
    state.pair.gains = news.gains;
    if (!news.gains) tell(state, "The light cannot be matched: legs and arms are not seen well enough in both.");
}

void take_in(ReviewState& state, const FilmsAdded& news) {
    if (!state.library) return;
    Edit edit{"Add films", {}};
    for (const std::string& fingerprint : news.fingerprints) {
        const auto* clip = state.library->find_clip(fingerprint);
        if (clip == nullptr) continue;
        edit.changes.emplace_back(EntryChange<journal::Clip>{std::nullopt, *clip});
        if (auto started = apply(state, AnalyseClip{fingerprint}); !started) tell(state, started.error().detail, true);
    }
    // The films are stored already: the edit is only remembered, so that it can be undone.
    if (!edit.changes.empty()) state.history.did(std::move(edit));
}

}  // namespace

void absorb(ReviewState& state, News news) {
    std::visit([&](auto& piece) { take_in(state, std::move(piece)); }, news);
}

void NewsBox::post(News news) {
    {
        const std::lock_guard lock(mutex_);
        news_.push_back(std::move(news));
    }
    if (wake_) wake_();
}

std::vector<News> NewsBox::take() {
    std::vector<News> taken;
    const std::lock_guard lock(mutex_);
    taken.swap(news_);
    return taken;
}

}  // namespace quarterturn::app
