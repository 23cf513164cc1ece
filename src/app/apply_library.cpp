#include <algorithm>

#include "app/apply.hpp"
#include "base/id.hpp"

namespace quarterturn::app {
namespace {

std::filesystem::path absolute_or_same(const std::filesystem::path& path) {
    std::error_code error;
    auto whole = std::filesystem::absolute(path, error);
    return error ? path : whole;
}

/// What "compare" means from where the person is: the open clip's session, else the one looked at in the library.
std::optional<std::string> session_to_compare(const ReviewState& state) {
    if (state.place == Place::clip && state.clip && state.clip->in_library) return state.clip->session;
    if (state.pair.now) return state.pair.now->session;
    if (state.library->find_session(state.session) != nullptr) return state.session;
    if (state.clip && state.clip->in_library) return state.clip->session;
    if (state.library->sessions.empty()) return std::nullopt;
    return state.library->sessions.back().id;
}

Status go(ReviewState& state, Place place) {
    if (place == Place::pair) {
        const auto session = state.library ? session_to_compare(state) : std::nullopt;
        const bool there = session && state.pair.now && state.pair.now->session == *session;
        if (!there) return apply_pair(state, {pairing::Compare{{session.value_or(""), std::nullopt}, std::nullopt}});
    }
    if (state.pair.running && place != Place::pair) {
        state.pair.running = false;
        state.requests.push_back(Request::PausePair{});
    }
    if (place == Place::clip && !state.clip)
        return Error{ErrorCode::not_found, "No clip is open. Choose one in the library, or drop a film on the window."};
    if (place == Place::library && !state.library) place = Place::start;
    if (state.playing.running && place != Place::clip) {
        state.playing.running = false;
        state.requests.push_back(Request::Pause{});
    }
    if (place != Place::clip && place != Place::pair && state.desk.full_screen) {
        state.desk.full_screen = false;
        state.requests.push_back(Request::FullScreen{false});
    }
    state.desk.tool.reset();
    state.place = place;
    if (place == Place::pair) {
        refresh_pair(state);  // what was corrected meanwhile
        show_pair(state);
    }
    return ok();
}

Status open_from_library(ReviewState& state, const std::string& fingerprint) {
    state.library_clip = fingerprint;
    const auto* clip = state.library ? state.library->find_clip(fingerprint) : nullptr;
    if (clip == nullptr) return Error{ErrorCode::not_found, "This clip is no longer in the library."};
    state.requests.push_back(Request::OpenFilm{journal::clip_file(state.library_folder, *clip), fingerprint});
    return ok();
}

Status analyse(ReviewState& state, const std::string& fingerprint) {
    const bool running = std::any_of(state.jobs.begin(), state.jobs.end(), [&](const JobLine& job) {
        return job.kind == JobKind::analysis && job.clip == fingerprint;
    });
    if (running) return ok();
    Request::Analyse request;
    request.fingerprint = fingerprint;
    if (const auto* clip = state.library ? state.library->find_clip(fingerprint) : nullptr) {
        request.file = journal::clip_file(state.library_folder, *clip);
    } else if (state.clip && state.clip->fingerprint == fingerprint) {
        request.file = state.clip->file;
    } else {
        return Error{ErrorCode::not_found, "This clip is no longer in the library."};
    }
    state.requests.push_back(std::move(request));
    return ok();
}

Status add_films(ReviewState& state, const std::vector<std::filesystem::path>& files) {
    if (files.empty()) return ok();
    if (!state.library) {
        state.requests.push_back(Request::OpenFilm{absolute_or_same(files.front()), ""});
        return ok();
    }
    std::string season = state.season;
    if (season.empty() && !state.library->seasons.empty()) season = state.library->seasons.back().id;
    if (season.empty())
        return Error{ErrorCode::not_found, "Start a season first: it says which show the practice is for."};
    std::vector<std::filesystem::path> whole;
    for (const auto& file : files) whole.push_back(absolute_or_same(file));
    state.requests.push_back(Request::AddFilms{std::move(whole), season});
    return ok();
}

void quit(ReviewState& state) {
    if (state.save_trouble && !state.pending.empty() && !std::exchange(state.leave_anyway, true))
        return tell(state, "Your last changes are not on disk yet. Quit once more to leave without them.", true);
    state.requests.push_back(Request::Quit{});
}

template <class Entry>
Status change(ReviewState& state, const Entry* before, Entry after, std::string title) {
    if (before == nullptr) return Error{ErrorCode::not_found, "This is no longer in the library."};
    if (*before == after) return ok();
    after.editor = state.author();
    make_edit(state, {std::move(title), {EntryChange<Entry>{*before, std::move(after)}}});
    return ok();
}

// On the library page, in the season where the clip is.
Status start_moving(ReviewState& state, const std::optional<std::string>& fingerprint) {
    state.moving.reset();
    if (!fingerprint) return ok();
    const auto* clip = state.library->find_clip(*fingerprint);
    if (clip == nullptr) return Error{ErrorCode::not_found, "This clip is no longer in the library."};
    state.library_clip = clip->id;
    state.moving = Moving{clip->id, clip->session};
    if (const auto* session = state.library->find_session(clip->session)) state.season = session->season;
    return state.place == Place::library ? ok() : go(state, Place::library);
}

// What was noted about the clip goes along: a note belongs to the session of its clip.
Status move_clip(ReviewState& state, const MoveClip& wanted) {
    const auto* clip = state.library->find_clip(wanted.fingerprint);
    const auto* session = state.library->find_session(wanted.session);
    if (clip == nullptr || session == nullptr)
        return Error{ErrorCode::not_found, "This clip or session is no longer in the library."};
    state.moving.reset();
    if (clip->session == session->id) return ok();
    journal::Clip after = *clip;
    after.session = session->id;
    after.editor = state.author();
    Edit edit{"Move the clip", {EntryChange<journal::Clip>{*clip, std::move(after)}}};
    for (const journal::Note* note : state.library->notes_of_clip(clip->id)) {
        journal::Note moved = *note;
        moved.session = session->id;
        moved.editor = state.author();
        if (note->session != session->id)
            edit.changes.emplace_back(EntryChange<journal::Note>{*note, std::move(moved)});
    }
    state.season = session->season;
    state.library_clip = clip->id;
    make_edit(state, std::move(edit));
    return ok();
}

Status edit_library(ReviewState& state, const Command& command) {
    if (const auto* c = std::get_if<NewSeason>(&command)) {
        journal::Season made = c->season;
        made.id = new_id();
        made.author = made.editor = state.author();
        state.season = made.id;
        make_edit(state, {"Start a season", {EntryChange<journal::Season>{std::nullopt, std::move(made)}}});
    }
    if (const auto* c = std::get_if<MoveSession>(&command)) {
        const auto* before = state.library->find_session(c->session);
        journal::Session after = before != nullptr ? *before : journal::Session{};
        after.date = c->date;
        after.date_source = journal::DateSource::given;
        return change(state, before, std::move(after), "Move the session");
    }
    if (const auto* c = std::get_if<SetClip>(&command))
        return change(state, state.library->find_clip(c->clip.id), c->clip, c->title);
    if (const auto* c = std::get_if<StartMoving>(&command)) return start_moving(state, c->fingerprint);
    if (const auto* c = std::get_if<MoveClip>(&command)) return move_clip(state, *c);
    if (const auto* c = std::get_if<PointAtSession>(&command); c != nullptr && state.moving)
        state.moving->session = c->session;
    if (const auto* c = std::get_if<TakeClipOut>(&command)) {
        const auto* before = state.library->find_clip(c->fingerprint);
        if (before == nullptr) return Error{ErrorCode::not_found, "This clip is no longer in the library."};
        make_edit(state, {"Take the clip out", {EntryChange<journal::Clip>{*before, std::nullopt}}});
    }
    if (const auto* c = std::get_if<HideBodyNumbers>(&command)) {
        journal::Athlete after = state.library->athlete;
        after.hide_body_numbers = c->on;
        if (c->on) state.desk.overlays.silhouette = false;
        if (c->on && state.pair.look == PairLook::outline) state.pair.look = PairLook::beside;
        const Status done = change(state, &state.library->athlete, std::move(after), "Hide body numbers");
        refresh_pair(state);
        return done;
    }
    if (const auto* c = std::get_if<AnalyseSession>(&command))
        for (const auto* clip : state.library->clips_of(c->session))
            if (auto done = analyse(state, clip->id); !done) return done;
    return ok();
}

}  // namespace

Status apply_library(ReviewState& state, const Command& command) {
    if (const auto* c = std::get_if<GoTo>(&command)) return go(state, c->place);
    if (const auto* c = std::get_if<OpenFile>(&command))
        state.requests.push_back(Request::OpenFilm{absolute_or_same(c->file), ""});
    if (const auto* c = std::get_if<OpenFromLibrary>(&command)) return open_from_library(state, c->fingerprint);
    if (const auto* c = std::get_if<UseLibrary>(&command))
        state.requests.push_back(Request::OpenLibrary{absolute_or_same(c->folder)});
    if (const auto* c = std::get_if<NewLibrary>(&command))
        state.requests.push_back(Request::CreateLibrary{absolute_or_same(c->folder), c->title});
    if (const auto* c = std::get_if<NewDemo>(&command))
        state.requests.push_back(Request::MakeDemo{absolute_or_same(c->folder)});
    if (const auto* c = std::get_if<ChooseSeason>(&command)) state.season = c->season;
    if (const auto* c = std::get_if<ChooseSession>(&command)) state.session = c->session;
    if (const auto* c = std::get_if<ChooseClip>(&command)) state.library_clip = c->fingerprint;
    if (const auto* c = std::get_if<ChooseFiles>(&command)) state.requests.push_back(Request::ChooseFiles{c->choosing});
    if (const auto* c = std::get_if<AddFilms>(&command)) return add_films(state, c->files);
    if (const auto* c = std::get_if<AnalyseClip>(&command)) return analyse(state, c->fingerprint);
    if (const auto* c = std::get_if<CancelJob>(&command)) state.requests.push_back(Request::Cancel{c->job});
    if (const auto* c = std::get_if<SetSettings>(&command)) {
        state.settings = c->settings;
        state.requests.push_back(Request::SaveSettings{});
    }
    if (const auto* c = std::get_if<PutAway>(&command))
        std::erase_if(state.messages, [&](const Message& message) { return message.id == c->message; });
    if (std::holds_alternative<Quit>(command)) quit(state);
    return state.library ? edit_library(state, command) : ok();
}

}  // namespace quarterturn::app
