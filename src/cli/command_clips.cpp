/// quarterturn add and clip: bringing films in, and what is known about each.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <utility>

#include "cli/clip_time.hpp"
#include "cli/context.hpp"

#include "cli/json_output.hpp"
#include "cli/library_access.hpp"
#include "cli/progress_line.hpp"
#include "cli/ranges.hpp"
#include "cli/table.hpp"
#include "journal/clip_files.hpp"
#include "media/fingerprint_of.hpp"
#include "media/probe.hpp"
#include "share/film_files.hpp"
#include "share/measure.hpp"

namespace quarterturn::cli {
namespace {

struct AddClipsOptions {
    std::vector<std::filesystem::path> files;
    std::string season, date;
    std::optional<double> heels_cm, time_scale;
    bool copy = false, mirrored = false;
};

Result<journal::AddOptions> add_options(const AddClipsOptions& options) {
    journal::AddOptions add;
    if (!options.date.empty()) {
        const auto date = parse_date(options.date);
        if (!date) return date.error();
        add.date = *date;
    }
    add.time_scale = options.time_scale;
    if (options.mirrored) add.mirrored = true;
    add.heel_height_cm = options.heels_cm;
    return add;
}

Status copy_in(OpenLibrary& library, const std::vector<journal::AddedClip>& added) {
    const auto now = library.store.read();
    if (!now) return now.error();
    for (const auto& entry : added) {
        const auto* clip = now->find_clip(entry.fingerprint);
        if (clip == nullptr || entry.outcome == journal::ClipOutcome::known) continue;
        const auto path = journal::copy_into_library(library.store.folder(), entry.path, entry.fingerprint,
                                                     [](const auto& file) { return media::fingerprint_of(file); });
        if (!path) return path.error();
        journal::Clip changed = *clip;
        changed.path = *path;
        if (const auto kept = library.store.edit_clip(changed, library.author); !kept) return kept.error();
    }
    return ok();
}

void print_added(const OpenLibrary& library, const std::vector<journal::AddedClip>& added) {
    const auto now = library.store.read();
    if (!now) return;
    for (const auto& entry : added) {
        const auto* session = now->find_session(entry.session);
        const std::string date = session != nullptr ? format_date(session->date) : "";
        const char* outcome = entry.outcome == journal::ClipOutcome::known ? "is there already" : "added";
        fmt::print("{}: {}, session {}{}\n", entry.path.filename().string(), outcome, date,
                   entry.date_guessed ? " (date guessed; `quarterturn session change` moves it)" : "");
        if (entry.ask_speed)
            fmt::print(
                "  This looks like slow motion, and the file does not say how slow. If so: quarterturn clip change "
                "{} --time-scale 0.25  (true seconds per second played)\n",
                entry.path.filename().string());
    }
}

Status add_clips_to_library(Context& context, const AddClipsOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    const auto season = find_season(library->now, options.season);
    if (!season) return season.error();
    const auto add = add_options(options);
    if (!add) return add.error();
    const auto files = share::film_files(options.files);
    if (!files) return files.error();
    std::vector<journal::ClipFacts> facts;
    std::vector<std::string> refused;
    {
        ProgressLine line;
        for (std::size_t i = 0; i < files->size(); ++i) {
            line.show(static_cast<double>(i) / static_cast<double>(files->size()), (*files)[i].filename().string());
            auto fact = share::clip_facts((*files)[i], library->store, context.stop);
            if (!fact && fact.error().code == ErrorCode::cancelled) return fact.error();
            if (fact)
                facts.push_back(std::move(*fact));
            else
                refused.push_back(fact.error().detail);
        }
    }
    const auto added = library->store.add_clips(season->id, facts, *add, library->author);
    if (!added) return added.error();
    if (options.copy) {
        if (Status copied = copy_in(*library, added->clips); !copied) return copied;
    }
    print_added(*library, added->clips);
    for (const auto& sentence : refused) fmt::print(stderr, "quarterturn: left out: {}\n", sentence);
    if (facts.empty() && refused.empty()) return Error{ErrorCode::not_found, "There is no film in what was given."};
    if (!refused.empty()) context.exit = ExitCode::problems_found;
    return ok();
}

Json athlete_json(const journal::Clip& clip) {
    if (!clip.athlete_at) return nullptr;
    const journal::AthleteShown& at = *clip.athlete_at;
    return {{"pts", at.pts}, {"time_base", {at.base.num, at.base.den}}, {"x", at.x}, {"y", at.y}};
}

std::string measured_words(share::MeasuredState state) {
    switch (state) {
        case share::MeasuredState::measured:
            return "yes";
        case share::MeasuredState::older_version:
            return "by an older version";
        case share::MeasuredState::other_settings:
            return "set otherwise since";
        case share::MeasuredState::not_measured:
            break;
    }
    return "no";
}

Status list_clips(const Context& context) {
    auto library = open_library(context);
    if (!library) return library.error();
    Json document = Json::array();
    Table table{{"session", "clip", "counts", "measured", "true speed", "MB", "fingerprint"},
                {},
                {false, false, false, false, false, true}};
    const auto measured = share::measured_states(library->store, library->now, context.measure_settings());
    for (const auto& clip : library->now.clips) {
        const auto* session = library->now.find_session(clip.session);
        const std::string date = session != nullptr ? format_date(session->date) : "";
        document.push_back({{"fingerprint", clip.id},
                            {"name", clip.original_name},
                            {"path", journal::clip_file(library->store.folder(), clip).string()},
                            {"session", clip.session},
                            {"date", date},
                            {"counts", clip.counts},
                            {"measured", share::measured_state_id(measured.at(clip.id))},
                            {"time_scale", clip.time_scale},
                            {"speed_source", journal::speed_source_id(clip.speed_source)},
                            {"mirrored", clip.mirrored},
                            {"rotation_deg", or_null(clip.rotation_deg)},
                            {"tilt_deg", or_null(clip.tilt_deg)},
                            {"athlete_at", athlete_json(clip)},
                            {"bytes", clip.file_bytes}});
        table.rows.push_back(
            {date, clip.original_name, clip.counts ? "yes" : "no", measured_words(measured.at(clip.id)),
             clip.time_scale == 1 ? "as played" : fmt::format("x {:.3g}", clip.time_scale),
             fmt::format("{:.1f}", static_cast<double>(clip.file_bytes) / 1e6), clip.id.substr(7, 12)});
    }
    if (context.json)
        print_json(document);
    else
        fmt::print("{}", format_table(table));
    return ok();
}

struct ClipOptions {
    std::string which, session;
    bool counts = false, not_counts = false, mirrored = false, not_mirrored = false;
    std::optional<double> time_scale, tilt_deg;
    std::optional<int> rotation_deg;
    std::vector<double> athlete_at;
    bool athlete_anyone = false, rotation_as_file = false, tilt_estimated = false;
};

/// Seconds and shares of the picture as typed.
Result<journal::AthleteShown> athlete_shown(const OpenLibrary& library, const journal::Clip& clip,
                                            const std::vector<double>& typed) {
    if (typed[1] < 0 || typed[1] > 1 || typed[2] < 0 || typed[2] > 1)
        return Error{
            ErrorCode::bad_input,
            "--athlete-at takes the second and the place as shares of the picture from its left and upper edge, "
            "0 to 1, e.g. 12.5,0.4,0.5"};
    const auto time = ClipTime::open(library, clip);
    if (!time) return time.error();
    const auto pts = time->pts_at(typed[0]);
    if (!pts) return pts.error();
    return journal::AthleteShown{*pts, time->base(), typed[1], typed[2]};
}

/// The athlete stays where she was shown when the film is turned; the window does the same.
Status turn(const OpenLibrary& library, journal::Clip& clip, std::optional<int> rotation_deg) {
    const auto before = std::exchange(clip.rotation_deg, rotation_deg);
    if (!clip.athlete_at || before == rotation_deg) return ok();
    const auto info = media::probe(journal::clip_file(library.store.folder(), clip));
    if (!info) return info.error();
    clip.athlete_at = journal::turned(*clip.athlete_at, before.value_or(info->rotation_deg),
                                      rotation_deg.value_or(info->rotation_deg));
    return ok();
}

/// What was noted about a clip belongs to the clip's session.
Status move_notes(OpenLibrary& library, const journal::Clip& clip) {
    for (const journal::Note* note : library.now.notes_of_clip(clip.id)) {
        if (note->session == clip.session) continue;
        journal::Note moved = *note;
        moved.session = clip.session;
        if (const auto kept = library.store.edit_note(moved, library.author); !kept) return kept.error();
    }
    return ok();
}

Status change_clip(const Context& context, const ClipOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    auto clip = find_clip(library->now, options.which);
    if (!clip) return clip.error();
    if (options.counts || options.not_counts) clip->counts = options.counts;
    if (options.mirrored || options.not_mirrored) clip->mirrored = options.mirrored;
    if (options.time_scale) {
        clip->time_scale = *options.time_scale;
        clip->speed_source = journal::SpeedSource::given;
    }
    if (options.tilt_deg || options.tilt_estimated) clip->tilt_deg = options.tilt_deg;
    if (options.rotation_deg || options.rotation_as_file)
        if (Status turned = turn(*library, *clip, options.rotation_deg); !turned) return turned;
    if (options.athlete_anyone) clip->athlete_at.reset();
    if (!options.athlete_at.empty()) {
        const auto shown = athlete_shown(*library, *clip, options.athlete_at);
        if (!shown) return shown.error();
        clip->athlete_at = *shown;
    }
    if (!options.session.empty()) {
        const auto session = find_session(library->now, options.session);
        if (!session) return session.error();
        clip->session = session->id;
    }
    const auto kept = library->store.edit_clip(*clip, library->author);
    if (!kept) return kept.error();
    return options.session.empty() ? ok() : move_notes(*library, *kept);
}

Status remove_clip(const Context& context, const std::string& which) {
    auto library = open_library(context);
    if (!library) return library.error();
    const auto clip = find_clip(library->now, which);
    return clip ? library->store.remove_clip(clip->id, library->author) : Status{clip.error()};
}

void add_clip_commands(CLI::App& clip, Context& context) {
    const auto options = std::make_shared<ClipOptions>();
    CLI::App* change = add_command(clip, context, "change", "Say what counts, the true speed, or how it was filmed",
                                   [&context, options] { return change_clip(context, *options); });
    change->add_option("clip", options->which, "Name, path or fingerprint")->required();
    auto* counts = change->add_flag("--counts", options->counts, "This take counts");
    change->add_flag("--not-counts", options->not_counts, "Keep it, but leave it out of reports")->excludes(counts);
    auto* mirrored = change->add_flag("--mirrored", options->mirrored, "Left and right are swapped in the film");
    change->add_flag("--not-mirrored", options->not_mirrored, "They are not")->excludes(mirrored);
    change->add_option("--time-scale", options->time_scale, "True seconds per second played, e.g. 0.25")
        ->check(number_from(0.01, 100.0));
    auto* tilt =
        change
            ->add_option("--tilt", options->tilt_deg,
                         "Turn clockwise by so many degrees to make the room upright; 0: it is (default: estimated)")
            ->check(number_from(-44.9, 44.9));
    change->add_flag("--tilt-estimated", options->tilt_estimated, "Let the upright be estimated again")->excludes(tilt);
    auto* shown =
        change
            ->add_option("--athlete-at", options->athlete_at,
                         "Which of several people to follow: TIME,X,Y; a second and shares of the picture from "
                         "its left and upper edge, e.g. 12.5,0.4,0.5")
            ->delimiter(',')
            ->expected(3);
    change->add_flag("--athlete-anyone", options->athlete_anyone, "Let the program choose whom to follow again")
        ->excludes(shown);
    auto* rotation = change->add_option("--rotation", options->rotation_deg, "Instead of the file's own rotation")
                         ->check(CLI::IsMember({0, 90, 180, -90}));
    change->add_flag("--rotation-as-file", options->rotation_as_file, "The file's own rotation again")
        ->excludes(rotation);
    change->add_option("--session", options->session, "Move it with its notes to this session (date or id)");
    const auto which = std::make_shared<std::string>();
    add_command(clip, context, "remove", "Take a clip out of the library; the film file stays",
                [&context, which] { return remove_clip(context, *which); })
        ->add_option("clip", *which, "Name, path or fingerprint")
        ->required();
    add_command(clip, context, "list", "List the clips", [&context] {
        return list_clips(context);
    })->add_flag("--json", context.json, "As JSON");
}

}  // namespace

void add_clips(CLI::App& app, Context& context) {
    const auto options = std::make_shared<AddClipsOptions>();
    CLI::App* add =
        add_command(app, context, "add", "Bring films or folders of films into a season; known ones are skipped",
                    [&context, options] { return add_clips_to_library(context, *options); });
    add->add_option("files", options->files, "Films and folders")->required();
    add->add_option("--season", options->season, "Title, show date or id (default: the coming one)");
    add->add_option("--date", options->date, "Day of practice (default: when it was recorded)");
    add->add_option("--heels-cm", options->heels_cm, "Heel height that day; 0 is barefoot")
        ->check(number_from(0.0, 30.0));
    add->add_option("--time-scale", options->time_scale, "True seconds per second played, for slow motion")
        ->check(number_from(0.01, 100.0));
    add->add_flag("--mirrored", options->mirrored, "Filmed with a front camera that swaps left and right");
    add->add_flag("--copy", options->copy, "Copy the films into the library (default: they stay where they are)");

    CLI::App* clip = app.add_subcommand("clip", "What is known about a clip")->fallthrough();
    clip->require_subcommand(1);
    add_clip_commands(*clip, context);
}

}  // namespace quarterturn::cli
