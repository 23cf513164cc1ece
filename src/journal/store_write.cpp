/// Seasons, sessions, clips, notes, corrections and pins: what each may refer to, and nothing else.
#include <fmt/format.h>

#include "journal/store_state.hpp"

namespace quarterturn::journal {
namespace {

template <class Entry>
bool any_of(const std::vector<Entry>& entries, const auto& fits) {
    return std::any_of(entries.begin(), entries.end(), fits);
}

}  // namespace

Result<Athlete> Store::edit_athlete(Athlete athlete, const Author& editor) {
    athlete.id = "athlete";
    return state_->edit(std::move(athlete), editor, [](const Athlete&, const Athlete&) { return ok(); });
}

Result<Season> Store::add_season(Season season, const Author& author) {
    return state_->add(std::move(season), author, [](const Season&) { return ok(); });
}

Result<Season> Store::edit_season(Season season, const Author& editor) {
    return state_->edit(std::move(season), editor, [](const Season&, const Season&) { return ok(); });
}

Status Store::remove_season(const std::string& id, const Author& editor) {
    const auto held = state_->lock();
    if (!held) return held.error();
    if (any_of(state_->all<Session>(), [&](const Session& session) { return session.season == id; }))
        return Error{ErrorCode::conflict, "That season still has sessions. Move or remove them first."};
    const auto done = state_->set_removed<Season>(id, true, editor);
    return done ? ok() : Status{done.error()};
}

namespace {

/// One session a day in a season.
Status check_day(const std::vector<Session>& sessions, const Session& wanted) {
    const auto same_day = [&](const Session& other) {
        return other.season == wanted.season && other.date == wanted.date && other.id != wanted.id;
    };
    if (!any_of(sessions, same_day)) return ok();
    return Error{ErrorCode::conflict,
                 fmt::format("The season has a session on {} already. Move the clips there, or take another date.",
                             format_date(wanted.date))};
}

}  // namespace

Result<Session> Store::add_session(Session session, const Author& author) {
    return state_->add(std::move(session), author, [&](Session& wanted) -> Status {
        if (Status there = state_->need<Season>(wanted.season); !there) return there;
        wanted.id.clear();
        return check_day(state_->all<Session>(), wanted);
    });
}

Result<Session> Store::edit_session(Session session, const Author& editor) {
    return state_->edit(std::move(session), editor, [&](const Session& wanted, const Session& before) -> Status {
        if (wanted.season == before.season && wanted.date == before.date) return ok();
        if (Status there = state_->need<Season>(wanted.season); !there) return there;
        return check_day(state_->all<Session>(), wanted);
    });
}

Status Store::remove_session(const std::string& id, const Author& editor) {
    const auto held = state_->lock();
    if (!held) return held.error();
    if (any_of(state_->all<Clip>(), [&](const Clip& clip) { return clip.session == id; }) ||
        any_of(state_->all<Note>(), [&](const Note& note) { return note.session == id; }))
        return Error{ErrorCode::conflict, "That session still has clips or notes. Move or remove them first."};
    const auto done = state_->set_removed<Session>(id, true, editor);
    return done ? ok() : Status{done.error()};
}

Result<Clip> Store::edit_clip(Clip clip, const Author& editor) {
    return state_->edit(std::move(clip), editor, [&](const Clip& wanted, const Clip& before) {
        return wanted.session == before.session ? ok() : state_->need<Session>(wanted.session);
    });
}

Status Store::remove_clip(const std::string& fingerprint, const Author& editor) {
    const auto done = state_->locked_set_removed<Clip>(fingerprint, true, editor);
    return done ? ok() : Status{done.error()};
}

Result<Note> Store::add_note(Note note, const Author& author) {
    return state_->add(std::move(note), author, [&](const Note& wanted) -> Status {
        if (Status there = state_->need<Session>(wanted.session); !there) return there;
        return wanted.clip ? state_->need<Clip>(*wanted.clip) : ok();
    });
}

Result<Note> Store::edit_note(Note note, const Author& editor) {
    // A note stays editable when its clip was removed since.
    return state_->edit(std::move(note), editor, [&](const Note& wanted, const Note& before) -> Status {
        if (wanted.session != before.session) {
            if (Status there = state_->need<Session>(wanted.session); !there) return there;
        }
        return wanted.clip && wanted.clip != before.clip ? state_->need<Clip>(*wanted.clip) : ok();
    });
}

Status Store::remove_note(const std::string& id, const Author& editor) {
    const auto done = state_->locked_set_removed<Note>(id, true, editor);
    return done ? ok() : Status{done.error()};
}

Result<Note> Store::restore_note(const std::string& id, const Author& editor) {
    return state_->locked_set_removed<Note>(id, false, editor);
}

Result<HoldCorrection> Store::add_hold_correction(HoldCorrection correction, const Author& author) {
    return state_->add(std::move(correction), author,
                       [&](const HoldCorrection& wanted) { return state_->need<Clip>(wanted.clip); });
}

Result<HoldCorrection> Store::edit_hold_correction(HoldCorrection correction, const Author& editor) {
    return state_->edit(std::move(correction), editor, [&](const HoldCorrection& wanted, const HoldCorrection& before) {
        return wanted.clip == before.clip ? ok() : state_->need<Clip>(wanted.clip);
    });
}

Status Store::remove_hold_correction(const std::string& id, const Author& editor) {
    const auto done = state_->locked_set_removed<HoldCorrection>(id, true, editor);
    return done ? ok() : Status{done.error()};
}

Result<HoldCorrection> Store::restore_hold_correction(const std::string& id, const Author& editor) {
    return state_->locked_set_removed<HoldCorrection>(id, false, editor);
}

Result<Pin> Store::add_pin(Pin pin, const Author& author) {
    return state_->add(std::move(pin), author, [&](const Pin& wanted) -> Status {
        if (Status there = state_->need<Clip>(wanted.now.clip); !there) return there;
        return state_->need<Clip>(wanted.before.clip);
    });
}

Result<Pin> Store::edit_pin(Pin pin, const Author& editor) {
    return state_->edit(std::move(pin), editor, [&](const Pin& wanted, const Pin& before) -> Status {
        if (wanted.now.clip != before.now.clip) {
            if (Status there = state_->need<Clip>(wanted.now.clip); !there) return there;
        }
        return wanted.before.clip == before.before.clip ? ok() : state_->need<Clip>(wanted.before.clip);
    });
}

Status Store::remove_pin(const std::string& id, const Author& editor) {
    const auto done = state_->locked_set_removed<Pin>(id, true, editor);
    return done ? ok() : Status{done.error()};
}

Result<Pin> Store::restore_pin(const std::string& id, const Author& editor) {
    return state_->locked_set_removed<Pin>(id, false, editor);
}

}  // namespace quarterturn::journal
