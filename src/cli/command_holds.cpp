/// quarterturn hold: a person's word on what was measured. The measured original is kept.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/clip_time.hpp"
#include "cli/context.hpp"
#include "cli/json_output.hpp"
#include "cli/library_access.hpp"
#include "cli/table.hpp"
#include "rules/pose.hpp"
#include "share/confirmed_segments.hpp"
#include "share/measure.hpp"

namespace quarterturn::cli {
namespace {

struct HoldOptions {
    std::string clip, pose, correction;
    double at = 0;
    std::optional<double> start, end, split_at, and_at;
    bool no_pose = false;
};

/// One clip with its measured segments and the corrections laid over them.
struct Corrected {
    OpenLibrary library;
    journal::Clip clip;
    ClipTime time;
    std::vector<share::SegmentView> segments;

    [[nodiscard]] static journal::PtsRange range_of(const share::SegmentView& segment) {
        return {segment.now.start_pts, segment.now.end_pts};
    }
};

Result<Corrected> open_corrected(const Context& context, const std::string& which) {
    auto library = open_library(context);
    if (!library) return library.error();
    const auto clip = find_clip(library->now, which);
    if (!clip) return clip.error();
    auto time = ClipTime::open(*library, *clip);
    if (!time) return time.error();
    const auto analysis = share::measure_clip(library->store, library->now, *clip, context.measure_settings());
    if (!analysis) return analysis.error();
    auto segments = share::confirmed_segments(*analysis, library->now.corrections_of(clip->id));
    return Corrected{std::move(*library), *clip, std::move(*time), std::move(segments)};
}

Result<journal::PtsRange> hold_at(const Corrected& corrected, double seconds) {
    const auto pts = corrected.time.pts_at(seconds);
    if (!pts) return pts.error();
    for (const auto& segment : corrected.segments) {
        const journal::PtsRange range = Corrected::range_of(segment);
        if (segment.is_hold() && range.start <= *pts && *pts < range.end) return range;
    }
    return Error{ErrorCode::not_found,
                 fmt::format("There is no hold at {:.2f} s. `quarterturn hold list` shows them.", seconds)};
}

Result<journal::PtsRange> bounds(const Corrected& corrected, const HoldOptions& options,
                                 const journal::PtsRange& before) {
    journal::PtsRange range = before;
    if (options.start) {
        const auto pts = corrected.time.pts_at(*options.start);
        if (!pts) return pts.error();
        range.start = *pts;
    }
    if (options.end) {
        const auto pts = corrected.time.pts_at(*options.end);
        if (!pts) return pts.error();
        range.end = *pts;
    }
    if (range.end <= range.start) return Error{ErrorCode::bad_input, "A hold has to end after it starts."};
    return range;
}

/// Fills in what each kind of correction needs.
Status fill(journal::HoldCorrection& correction, const Corrected& corrected, const HoldOptions& options) {
    using Kind = journal::CorrectionKind;
    if (!options.pose.empty()) {
        if (Status known = check_pose(corrected.library, corrected.clip.session, options.pose); !known) return known;
        correction.pose = options.pose;
    }
    if (correction.kind == Kind::added) {
        const auto range = bounds(corrected, options, {0, 0});
        if (!range) return range.error();
        correction.range = *range;
        return ok();
    }
    const auto about = hold_at(corrected, options.at);
    if (!about) return about.error();
    correction.about = *about;
    if (correction.kind == Kind::bounds) {
        if (!options.start && !options.end)
            return Error{ErrorCode::bad_input, "Say where it starts or ends: --start, --end or both."};
        const auto range = bounds(corrected, options, *about);
        if (!range) return range.error();
        correction.range = *range;
    } else if (correction.kind == Kind::joined) {
        const auto second = hold_at(corrected, *options.and_at);
        if (!second) return second.error();
        if (*second == *about)
            return Error{ErrorCode::bad_input, "Both seconds lie in the same hold; --with needs one in the other."};
        correction.range = *second;
    } else if (correction.kind == Kind::split) {
        const auto pts = corrected.time.pts_at(*options.split_at);
        if (!pts) return pts.error();
        correction.at = *pts;
    }
    return ok();
}

Status correct(const Context& context, const HoldOptions& options, journal::CorrectionKind kind) {
    auto corrected = open_corrected(context, options.clip);
    if (!corrected) return corrected.error();
    journal::HoldCorrection correction;
    correction.clip = corrected->clip.id;
    correction.base = corrected->time.base();
    correction.kind = kind;
    if (Status filled = fill(correction, *corrected, options); !filled) return filled;
    const auto kept = corrected->library.store.add_hold_correction(correction, corrected->library.author);
    if (!kept) return kept.error();
    fmt::print("Correction {}\n", short_id(kept->id));
    return ok();
}

Status take_back(const Context& context, const HoldOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    for (const auto& correction : library->now.hold_corrections) {
        if (correction.id == options.correction || short_id(correction.id) == options.correction)
            return library->store.remove_hold_correction(correction.id, library->author);
    }
    return Error{ErrorCode::not_found, fmt::format("There is no correction \"{}\".", options.correction)};
}

Status list(const Context& context, const HoldOptions& options) {
    auto corrected = open_corrected(context, options.clip);
    if (!corrected) return corrected.error();
    Json document = Json::array();
    Table table{{"start", "end", "seconds", "pose", "from"}, {}, {true, true, true}};
    for (const auto& segment : corrected->segments) {
        if (!segment.is_hold()) continue;
        const journal::PtsRange range = Corrected::range_of(segment);
        const double start = corrected->time.seconds_of(range.start);
        const double end = corrected->time.seconds_of(range.end);
        document.push_back({{"start_s", start},
                            {"end_s", end},
                            {"duration_s", end - start},
                            {"start_pts", range.start},
                            {"end_pts", range.end},
                            {"pose", or_null(segment.now.pose)},
                            {"corrected", segment.corrected}});
        table.rows.push_back({fmt::format("{:.2f}", start), fmt::format("{:.2f}", end),
                              fmt::format("{:.1f}", end - start), segment.now.pose.value_or("not recognised"),
                              segment.corrected ? "a person" : "measured"});
    }
    if (context.json)
        print_json(document);
    else
        fmt::print("{}", format_table(table));
    for (const auto& correction : corrected->library.now.corrections_of(corrected->clip.id)) {
        if (!context.json)
            fmt::print("correction {}: {}\n", short_id(correction.id), journal::correction_kind_id(correction.kind));
    }
    return ok();
}

}  // namespace

void add_holds(CLI::App& app, Context& context) {
    using Kind = journal::CorrectionKind;
    CLI::App* hold = app.add_subcommand("hold", "Correct what was measured; the original is kept")->fallthrough();
    hold->require_subcommand(1);
    const auto options = std::make_shared<HoldOptions>();
    const auto command = [&](const char* name, const char* text, Kind kind) {
        CLI::App* one = add_command(*hold, context, name, text,
                                    [&context, options, kind] { return correct(context, *options, kind); });
        one->add_option("clip", options->clip, "Name, path or fingerprint")->required();
        if (kind != Kind::added) one->add_option("--at", options->at, "A second inside the hold")->required();
        return one;
    };
    command("relabel", "Say which pose it is", Kind::relabelled)
        ->add_option("pose", options->pose, "Pose id; none: no known pose");
    CLI::App* move = command("bounds", "Move its start or end", Kind::bounds);
    move->add_option("--start", options->start, "Second at which it starts");
    move->add_option("--end", options->end, "Second at which it ends");
    CLI::App* split = command("split", "Make two of it", Kind::split);
    split->add_option("--cut", options->split_at, "Second at which the second part starts")->required();
    split->add_option("--pose", options->pose, "Pose of the second part");
    command("join", "Make one of two", Kind::joined)
        ->add_option("--with", options->and_at, "A second inside the other hold")
        ->required();
    CLI::App* add = command("add", "Add one that was not found", Kind::added);
    add->add_option("--start", options->start, "Second at which it starts")->required();
    add->add_option("--end", options->end, "Second at which it ends")->required();
    add->add_option("--pose", options->pose, "Pose id");
    command("remove", "It is no hold", Kind::removed);
    add_command(*hold, context, "undo", "Take a correction back",
                [&context, options] { return take_back(context, *options); })
        ->add_option("correction", options->correction, "Its id, as listed")
        ->required();
    CLI::App* all = add_command(*hold, context, "list", "The holds of a clip with their corrections",
                                [&context, options] { return list(context, *options); });
    all->add_option("clip", options->clip, "Name, path or fingerprint")->required();
    all->add_flag("--json", context.json, "As JSON");
}

}  // namespace quarterturn::cli
