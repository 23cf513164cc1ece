/// quarterturn note: what somebody says about a moment.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/clip_time.hpp"
#include "cli/context.hpp"
#include "cli/json_output.hpp"
#include "cli/library_access.hpp"
#include "cli/table.hpp"
#include "rules/pose.hpp"
#include "rules/topic.hpp"

namespace quarterturn::cli {
namespace {

struct NoteOptions {
    std::string which, clip, session, topic, pose, text;
    std::optional<double> at, until;
    bool undo = false, to_do = false;
};

std::vector<std::string> topic_ids() {
    std::vector<std::string> ids;
    for (const auto& topic : rules::topics()) ids.emplace_back(topic.id);
    return ids;
}

Result<journal::ClipMoment> moment_of(const OpenLibrary& library, const journal::Clip& clip,
                                      const NoteOptions& options) {
    const auto time = ClipTime::open(library, clip);
    if (!time) return time.error();
    const auto start = time->pts_at(*options.at);
    if (!start) return start.error();
    journal::ClipMoment moment{*start, std::nullopt, time->base()};
    if (options.until) {
        const auto end = time->pts_at(*options.until);
        if (!end) return end.error();
        if (*end <= *start) return Error{ErrorCode::bad_input, "--until has to be later than --at."};
        moment.end_pts = *end;
    }
    return moment;
}

Status add(const Context& context, const NoteOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    journal::Note note;
    note.text = options.text;
    note.topic = rules::find_topic(options.topic).value_or(rules::Topic::other);
    if (!options.pose.empty()) note.pose = options.pose;
    if (!options.clip.empty()) {
        const auto clip = find_clip(library->now, options.clip);
        if (!clip) return clip.error();
        note.clip = clip->id;
        note.session = clip->session;
        if (options.at) {
            const auto moment = moment_of(*library, *clip, options);
            if (!moment) return moment.error();
            note.moment = *moment;
        }
    } else {
        if (options.at) return Error{ErrorCode::bad_input, "--at needs --clip: a moment belongs to a film."};
        const auto session = find_session(library->now, options.session);
        if (!session) return session.error();
        note.session = session->id;
    }
    if (note.pose)
        if (Status known = check_pose(*library, note.session, *note.pose); !known) return known;
    const auto added = library->store.add_note(note, library->author);
    if (!added) return added.error();
    fmt::print("Note {}\n", short_id(added->id));
    return ok();
}

Status edit(const Context& context, const NoteOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    auto note = find_note(library->now, options.which);
    if (!note) return note.error();
    if (!options.text.empty()) note->text = options.text;
    if (!options.topic.empty()) note->topic = rules::find_topic(options.topic).value_or(note->topic);
    if (!options.pose.empty()) {
        if (Status known = check_pose(*library, note->session, options.pose); !known) return known;
        note->pose = options.pose;
    }
    if (options.at) {
        const auto* clip = note->clip ? library->now.find_clip(*note->clip) : nullptr;
        if (clip == nullptr) return Error{ErrorCode::bad_input, "This note is about a session, not about a film."};
        const auto moment = moment_of(*library, *clip, options);
        if (!moment) return moment.error();
        note->moment = *moment;
    }
    const auto edited = library->store.edit_note(*note, library->author);
    return edited ? ok() : Status{edited.error()};
}

Status set_done(const Context& context, const NoteOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    auto note = find_note(library->now, options.which);
    if (!note) return note.error();
    note->done = !options.undo;
    const auto edited = library->store.edit_note(*note, library->author);
    return edited ? ok() : Status{edited.error()};
}

Status remove(const Context& context, const NoteOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    const auto note = find_note(library->now, options.which);
    return note ? library->store.remove_note(note->id, library->author) : Status{note.error()};
}

struct ListedNote {
    const journal::Note* note;
    std::string clip_name;
    std::optional<double> start_s, end_s;
};

ListedNote listed(const OpenLibrary& library, const journal::Note& note) {
    ListedNote entry{&note, "", std::nullopt, std::nullopt};
    const auto* clip = note.clip ? library.now.find_clip(*note.clip) : nullptr;
    if (clip == nullptr) return entry;
    entry.clip_name = clip->original_name;
    if (!note.moment) return entry;
    // Without its film a note still has its text; only the seconds are unknown.
    if (const auto time = ClipTime::open(library, *clip)) {
        entry.start_s = time->seconds_of(note.moment->start_pts);
        if (note.moment->end_pts) entry.end_s = time->seconds_of(*note.moment->end_pts);
    }
    return entry;
}

Json as_json(const ListedNote& entry) {
    const journal::Note& note = *entry.note;
    Json moment = nullptr;
    if (note.moment)
        moment = {{"start_pts", note.moment->start_pts},
                  {"end_pts", or_null(note.moment->end_pts)},
                  {"time_base", {note.moment->base.num, note.moment->base.den}},
                  {"start_s", or_null(entry.start_s)},
                  {"end_s", or_null(entry.end_s)}};
    return {{"id", note.id},
            {"session", note.session},
            {"clip", or_null(note.clip)},
            {"clip_name", entry.clip_name},
            {"moment", moment},
            {"pose", or_null(note.pose)},
            {"topic", rules::topic_id(note.topic)},
            {"text", note.text},
            {"done", note.done},
            {"author", {{"name", note.author.name}, {"role", journal::role_id(note.author.role)}}}};
}

std::string when(const ListedNote& entry) {
    if (!entry.start_s) return "";
    return entry.end_s ? fmt::format("{:.1f}-{:.1f} s", *entry.start_s, *entry.end_s)
                       : fmt::format("{:.1f} s", *entry.start_s);
}

Status list(const Context& context, const NoteOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    std::string session;
    if (!options.session.empty()) {
        const auto found = find_session(library->now, options.session);
        if (!found) return found.error();
        session = found->id;
    }
    Json document = Json::array();
    Table table{{"date", "clip", "at", "pose", "topic", "who", "state", "note", "id"}, {}, {}};
    for (const auto& note : library->now.notes) {
        if ((!session.empty() && note.session != session) || (options.to_do && note.done)) continue;
        const ListedNote entry = listed(*library, note);
        if (context.json) document.push_back(as_json(entry));
        const auto* day = library->now.find_session(note.session);
        table.rows.push_back({day != nullptr ? format_date(day->date) : "", entry.clip_name, when(entry),
                              note.pose.value_or(""), std::string{rules::topic_id(note.topic)}, note.author.name,
                              note.done ? "done" : "to do", note.text, short_id(note.id)});
    }
    if (context.json)
        print_json(document);
    else
        fmt::print("{}", format_table(table));
    return ok();
}

void add_fields(CLI::App* command, NoteOptions& options) {
    command->add_option("--at", options.at, "Seconds into the film");
    command->add_option("--until", options.until, "Its end, for a stretch")->needs(command->get_option("--at"));
    command->add_option("--topic", options.topic, "What it is about")->check(CLI::IsMember(topic_ids()));
    command->add_option("--pose", options.pose, "Pose id");
}

}  // namespace

void add_notes(CLI::App& app, Context& context) {
    CLI::App* note = app.add_subcommand("note", "Notes pinned to a moment, a pose or a session")->fallthrough();
    note->require_subcommand(1);
    const auto options = std::make_shared<NoteOptions>();
    CLI::App* add_one =
        add_command(*note, context, "add", "Write a note", [&context, options] { return add(context, *options); });
    add_one->add_option("text", options->text, "The note, in any language")->required();
    add_one->add_option("--clip", options->clip, "The film: name, path or fingerprint");
    add_one->add_option("--session", options->session, "Date or id, for a note about the whole day");
    add_fields(add_one, *options);

    const auto which = [&options](CLI::App* command) {
        command->add_option("note", options->which, "Its id, as listed")->required();
    };
    CLI::App* edit_one =
        add_command(*note, context, "edit", "Change a note", [&context, options] { return edit(context, *options); });
    which(edit_one);
    edit_one->add_option("--text", options->text, "The new text");
    add_fields(edit_one, *options);
    CLI::App* done = add_command(*note, context, "done", "Tick a note off",
                                 [&context, options] { return set_done(context, *options); });
    which(done);
    done->add_flag("--not", options->undo, "Still to do after all");
    which(add_command(*note, context, "remove", "Remove a note",
                      [&context, options] { return remove(context, *options); }));
    CLI::App* all =
        add_command(*note, context, "list", "List notes", [&context, options] { return list(context, *options); });
    all->add_option("--session", options->session, "Only of this day");
    all->add_flag("--to-do", options->to_do, "Only those still to do");
    all->add_flag("--json", context.json, "As JSON");
}

}  // namespace quarterturn::cli
