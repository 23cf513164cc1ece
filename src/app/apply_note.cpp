#include <algorithm>

#include "app/apply.hpp"
#include "base/id.hpp"
#include "base/text.hpp"

namespace quarterturn::app {
namespace {

using journal::Note;

const Error outside{ErrorCode::unsupported,
                    "This clip is not in a library, so notes cannot be kept. Add it to a library first."};

Status pin(ReviewState& state, std::optional<std::int64_t> from) {
    if (!state.library || !state.clip->in_library) return outside;
    const OpenClip& clip = *state.clip;
    if (state.playing.running) {
        state.playing.running = false;
        state.requests.push_back(Request::Pause{});
    }
    Note note;
    note.id = new_id();
    note.author = note.editor = state.author();
    note.session = clip.session;
    note.clip = clip.fingerprint;
    const std::int64_t here = state.playing.pts;
    note.moment = journal::ClipMoment{from ? std::min(*from, here) : here, std::nullopt, clip.index->time_base};
    if (from && *from != here) note.moment->end_pts = std::max(*from, here);
    if (const auto span = span_at(clip, note.moment->start_pts); span && clip.spans[*span].is_hold)
        note.pose = clip.spans[*span].pose;
    state.desk.card = note.pose.value_or("");
    state.desk.card_shows_checklist = false;
    state.desk.note = note.id;
    state.desk.typing = true;
    state.desk.stretch_from.reset();
    state.history.settle();
    state.draft = Draft{std::move(note)};
    return ok();
}

const Note* stored(const ReviewState& state, const std::string& id) {
    return state.library ? state.library->find_note(id) : nullptr;
}

Status change(ReviewState& state, const Note& before, Note after, std::string title, bool grows = false) {
    if (before == after) return ok();
    after.editor = state.author();
    make_edit(state, {std::move(title), {EntryChange<Note>{before, std::move(after)}}}, grows);
    return ok();
}

Status type(ReviewState& state, const TypeNote& command) {
    if (command.text.size() > journal::longest_note)
        return Error{ErrorCode::bad_input, "This note is too long. Split it into several notes."};
    const bool nothing = trimmed(command.text).empty();
    if (const Note* before = stored(state, command.id)) {
        if (nothing) return ok();  // a note keeps its last words until it is removed
        Note after = *before;
        after.text = command.text;
        const bool fresh = state.draft && state.draft->note.id == command.id;
        return change(state, *before, std::move(after), fresh ? "Pin a note" : "Write a note", true);
    }
    if (!state.draft || state.draft->note.id != command.id || nothing) return ok();
    state.draft->note.text = command.text;
    make_edit(state, {"Pin a note", {EntryChange<Note>{std::nullopt, state.draft->note}}}, true);
    return ok();
}

Status choose(ReviewState& state, const std::optional<std::string>& id) {
    state.draft.reset();
    state.desk.typing = false;
    state.history.settle();
    state.desk.note = id;
    const Note* note = id ? stored(state, *id) : nullptr;
    if (note == nullptr) return ok();
    state.desk.card = note->pose.value_or("");
    state.desk.card_shows_checklist = false;
    if (note->moment) go_to(state, note->moment->start_pts);
    return ok();
}

void finish(ReviewState& state) {
    if (state.draft && !stored(state, state.draft->note.id)) state.desk.note.reset();
    state.draft.reset();
    state.desk.typing = false;
    state.desk.search_wanted = false;
    state.history.settle();
}

Status edit_stored(ReviewState& state, const Command& command) {
    if (const auto* c = std::get_if<SetTopic>(&command)) {
        if (state.draft && state.draft->note.id == c->id) state.draft->note.topic = c->topic;
        const Note* note = stored(state, c->id);
        if (note == nullptr) return ok();
        Note after = *note;
        after.topic = c->topic;
        return change(state, *note, std::move(after), "Change the topic");
    }
    if (const auto* c = std::get_if<SetDone>(&command)) {
        const Note* note = stored(state, c->id);
        if (note == nullptr) return ok();
        Note after = *note;
        after.done = c->done;
        return change(state, *note, std::move(after), c->done ? "Note is done" : "Note is to do");
    }
    if (const auto* c = std::get_if<RemoveNote>(&command)) {
        const Note* note = stored(state, c->id);
        if (note == nullptr) return ok();
        make_edit(state, {"Remove the note", {EntryChange<Note>{*note, std::nullopt}}});
        if (state.desk.note == c->id) finish(state), state.desk.note.reset();
    }
    return ok();
}

}  // namespace

Status apply_note(ReviewState& state, const Command& command) {
    Desk& desk = state.desk;
    if (std::holds_alternative<PinNote>(command)) return pin(state, std::nullopt);
    if (std::holds_alternative<StretchFrom>(command)) {
        if (!state.clip->in_library) return outside;
        desk.stretch_from = state.playing.pts;
        return ok();
    }
    if (std::holds_alternative<StretchTo>(command)) {
        if (!desk.stretch_from)
            return Error{ErrorCode::bad_input, "Say where the stretch starts first, then where it ends."};
        return pin(state, desk.stretch_from);
    }
    if (const auto* c = std::get_if<ChooseNote>(&command)) return choose(state, c->id);
    if (const auto* c = std::get_if<TypeNote>(&command)) return type(state, *c);
    if (std::holds_alternative<FinishTyping>(command)) finish(state);
    if (const auto* c = std::get_if<FilterNotes>(&command)) desk.filter = c->filter, desk.topic = c->topic;
    if (const auto* c = std::get_if<SearchNotes>(&command)) desk.search = c->text;
    if (std::holds_alternative<SearchFocused>(command)) desk.search_wanted = false;
    return edit_stored(state, command);
}

}  // namespace quarterturn::app
