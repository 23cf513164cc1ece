#include "app/saver.hpp"

#include <algorithm>

namespace quarterturn::app {
namespace {

using namespace journal;

constexpr int tries = 5;  // two programs writing the same entry at the same moment

template <class Entry>
const Entry* find_by_id(const std::vector<Entry>& entries, const std::string& id) {
    const auto found = std::find_if(entries.begin(), entries.end(), [&](const Entry& entry) { return entry.id == id; });
    return found == entries.end() ? nullptr : &*found;
}

template <class T>
void lay_over(const T& before, const T& after, T& stored) {
    if (before != after) stored = after;
}

Clip merged(const Clip& before, const Clip& after, Clip stored) {
    lay_over(before.session, after.session, stored.session);
    lay_over(before.path, after.path, stored.path);
    lay_over(before.counts, after.counts, stored.counts);
    lay_over(before.time_scale, after.time_scale, stored.time_scale);
    lay_over(before.speed_source, after.speed_source, stored.speed_source);
    lay_over(before.mirrored, after.mirrored, stored.mirrored);
    lay_over(before.rotation_deg, after.rotation_deg, stored.rotation_deg);
    lay_over(before.tilt_deg, after.tilt_deg, stored.tilt_deg);
    lay_over(before.athlete_at, after.athlete_at, stored.athlete_at);
    return stored;
}

Session merged(const Session& before, const Session& after, Session stored) {
    lay_over(before.season, after.season, stored.season);
    lay_over(before.date, after.date, stored.date);
    lay_over(before.date_source, after.date_source, stored.date_source);
    lay_over(before.heel_height_cm, after.heel_height_cm, stored.heel_height_cm);
    lay_over(before.title, after.title, stored.title);
    return stored;
}

Season merged(const Season& before, const Season& after, Season stored) {
    lay_over(before.title, after.title, stored.title);
    lay_over(before.show_date, after.show_date, stored.show_date);
    lay_over(before.rule_set, after.rule_set, stored.rule_set);
    lay_over(before.rule_choices, after.rule_choices, stored.rule_choices);
    lay_over(before.barefoot_height_cm, after.barefoot_height_cm, stored.barefoot_height_cm);
    lay_over(before.target_hold_s, after.target_hold_s, stored.target_hold_s);
    return stored;
}

// Reads, lays the change over, writes; once more when another program was faster.
template <class Entry, class List, class Write>
Status edit_entry(const Store& store, const Entry& before, const Entry& after, List list, Write write) {
    Error last{ErrorCode::conflict, "Another program keeps changing this. Try again in a moment."};
    for (int attempt = 0; attempt < tries; ++attempt) {
        const auto library = store.read();
        if (!library) return library.error();
        const Entry* stored = find_by_id(list(*library), after.id);
        if (stored == nullptr) return Error{ErrorCode::not_found, "Somebody else removed this meanwhile."};
        const auto done = write(merged(before, after, *stored));
        if (done) return ok();
        if (done.error().code != ErrorCode::conflict) return done.error();
        last = done.error();
    }
    return last;
}

}  // namespace

MergedNote merged(const Note& before, const Note& after, const Note& stored) {
    MergedNote result{stored, false};
    Note& note = result.note;
    lay_over(before.session, after.session, note.session);
    lay_over(before.moment, after.moment, note.moment);
    lay_over(before.pose, after.pose, note.pose);
    lay_over(before.topic, after.topic, note.topic);
    lay_over(before.done, after.done, note.done);
    // Drawings are laid over each by itself: ours that are new come along, those we took away go.
    for (const std::string& drawing : before.drawings)
        if (std::find(after.drawings.begin(), after.drawings.end(), drawing) == after.drawings.end())
            std::erase(note.drawings, drawing);
    for (const std::string& drawing : after.drawings)
        if (std::find(before.drawings.begin(), before.drawings.end(), drawing) == before.drawings.end())
            note.drawings.push_back(drawing);
    if (before.text == after.text || stored.text == after.text) return result;
    if (stored.text == before.text)
        note.text = after.text;
    else
        result.text_apart = true;
    return result;
}

std::string Saver::stored_id(const std::string& id) const {
    const auto found = names_.find(id);
    return found == names_.end() ? id : found->second;
}

void Saver::named(const std::string& from, const std::string& to) {
    known_.insert(to);
    if (from == to) return;
    names_[from] = to;
    new_names_.push_back({from, to});
}

Result<Library> Saver::read() {
    auto library = store_.read();
    if (!library) return library;
    for (const auto& note : library->notes) known_.insert(note.id);
    for (const auto& correction : library->hold_corrections) known_.insert(correction.id);
    for (const auto& pin : library->pins) known_.insert(pin.id);
    return library;
}

Status Saver::save(const Edit& edit, const Author& author, std::vector<NewName>& names, std::size_t* stored) {
    author_ = author;
    new_names_.clear();
    Status result = ok();
    std::size_t done = 0;
    for (const Change& change : edit.changes) {
        result = std::visit([&](const auto& entry) { return save_one(entry); }, change);
        if (!result) break;
        ++done;
    }
    if (stored != nullptr) *stored = done;
    names.insert(names.end(), new_names_.begin(), new_names_.end());
    return result;
}

Status Saver::add(const Note& note) {
    const auto added = store_.add_note(note, author_);
    if (!added) return added.error();
    named(note.id, added->id);
    return ok();
}

Status Saver::edit(const Note& before, const Note& after) {
    for (int attempt = 0; attempt < tries; ++attempt) {
        const auto library = store_.read();
        if (!library) return library.error();
        const Note* stored = library->find_note(after.id);
        if (stored == nullptr) {  // removed elsewhere: what a person writes wins over taking away
            const auto restored = store_.restore_note(after.id, author_);
            if (!restored) return restored.error();
            continue;
        }
        const MergedNote result = merged(before, after, *stored);
        if (result.text_apart) {
            Note own = after;
            own.id.clear();
            if (const auto added = store_.add_note(own, author_); !added) return added.error();
        }
        if (result.note == *stored) return ok();
        const auto written = store_.edit_note(result.note, author_);
        if (written) return ok();
        if (written.error().code != ErrorCode::conflict) return written.error();
    }
    return Error{ErrorCode::conflict, "Another program keeps changing this note. Try again in a moment."};
}

Status Saver::save_one(const EntryChange<Note>& change) {
    Note any = change.after ? *change.after : *change.before;
    any.id = stored_id(any.id);
    if (!change.after) return store_.remove_note(any.id, author_);
    if (change.before) {
        Note before = *change.before;
        before.id = any.id;
        return edit(before, any);
    }
    if (!known_.contains(any.id)) return add(any);
    const auto restored = store_.restore_note(any.id, author_);
    if (!restored) return restored.error();
    return edit(*restored, any);
}

Status Saver::save_one(const EntryChange<Mark>& change) {
    Mark mark = change.after ? *change.after : *change.before;
    if (!change.after) mark.value.reset();
    const auto done = store_.set_mark(mark);
    return done ? ok() : Status{done.error()};
}

Status Saver::save_one(const EntryChange<HoldCorrection>& change) {
    HoldCorrection any = change.after ? *change.after : *change.before;
    const std::string local = any.id;
    any.id = stored_id(any.id);
    if (!change.after) return store_.remove_hold_correction(any.id, author_);
    if (known_.contains(any.id)) {
        const auto restored = store_.restore_hold_correction(any.id, author_);
        return restored ? ok() : Status{restored.error()};
    }
    const auto added = store_.add_hold_correction(any, author_);
    if (!added) return added.error();
    named(local, added->id);
    return ok();
}

Status Saver::save_one(const EntryChange<Pin>& change) {
    Pin any = change.after ? *change.after : *change.before;
    const std::string local = any.id;
    any.id = stored_id(any.id);
    if (!change.after) return store_.remove_pin(any.id, author_);
    if (known_.contains(any.id)) {
        const auto restored = store_.restore_pin(any.id, author_);
        return restored ? ok() : Status{restored.error()};
    }
    const auto added = store_.add_pin(any, author_);
    if (!added) return added.error();
    named(local, added->id);
    return ok();
}

Status Saver::save_one(const EntryChange<Clip>& change) {
    if (!change.after) return store_.remove_clip(change.before->id, author_);
    if (change.before)
        return edit_entry(
            store_, *change.before, *change.after, [](const Library& l) -> const auto& { return l.clips; },
            [&](const Clip& clip) { return store_.edit_clip(clip, author_); });
    // Taken out before: adding it again brings it back as it was.
    const auto library = store_.read();
    if (!library) return library.error();
    const auto* session = library->find_session(change.after->session);
    if (session == nullptr) return Error{ErrorCode::not_found, "The session of this clip is no longer there."};
    ClipFacts facts;
    facts.fingerprint = change.after->id;
    facts.path = clip_file(store_.folder(), *change.after);
    facts.file_bytes = change.after->file_bytes;
    facts.recorded_at = change.after->recorded_at;
    AddOptions options;
    options.date = session->date;
    options.time_scale = change.after->time_scale;
    const auto added = store_.add_clips(session->season, {&facts, 1}, options, author_);
    return added ? ok() : Status{added.error()};
}

Status Saver::save_one(const EntryChange<Session>& change) {
    if (!change.before || !change.after) return Error{ErrorCode::unsupported, "Sessions come and go with their clips."};
    return edit_entry(
        store_, *change.before, *change.after, [](const Library& l) -> const auto& { return l.sessions; },
        [&](const Session& session) { return store_.edit_session(session, author_); });
}

Status Saver::save_one(const EntryChange<Season>& change) {
    if (!change.after) return store_.remove_season(stored_id(change.before->id), author_);
    if (!change.before) {
        const auto added = store_.add_season(*change.after, author_);
        if (!added) return added.error();
        named(change.after->id, added->id);
        return ok();
    }
    Season before = *change.before, after = *change.after;
    before.id = after.id = stored_id(after.id);
    return edit_entry(
        store_, before, after, [](const Library& l) -> const auto& { return l.seasons; },
        [&](const Season& season) { return store_.edit_season(season, author_); });
}

Status Saver::save_one(const EntryChange<Athlete>& change) {
    if (!change.after) return ok();
    for (int attempt = 0; attempt < tries; ++attempt) {
        const auto library = store_.read();
        if (!library) return library.error();
        Athlete athlete = library->athlete;
        athlete.name = change.after->name;
        athlete.barefoot_height_cm = change.after->barefoot_height_cm;
        athlete.hide_body_numbers = change.after->hide_body_numbers;
        const auto done = store_.edit_athlete(athlete, author_);
        if (done) return ok();
        if (done.error().code != ErrorCode::conflict) return done.error();
    }
    return Error{ErrorCode::conflict, "Another program keeps changing this. Try again in a moment."};
}

}  // namespace quarterturn::app
