/// quarterturn analyze: from a film to its measured segments; a bare file, or clips of the library.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "base/file.hpp"
#include "cli/context.hpp"
#include "cli/library_access.hpp"
#include "cli/measure_clips.hpp"
#include "cli/progress_line.hpp"
#include "cli/ranges.hpp"
#include "cli/segment_table.hpp"
#include "posing/analysis_json.hpp"
#include "rules/rule_sets.hpp"
#include "share/measure.hpp"

namespace quarterturn::cli {
namespace {

struct AnalyzeOptions {
    std::string clip, rules, method, json, session;
    std::optional<double> height_cm, tilt_deg;
    std::optional<int> rotation_deg;
    double time_scale = 1;
    bool mirrored = false, signals = false, all = false;
    int jobs = 0;
};

share::MeasureSettings measure_settings(const Context& context, const AnalyzeOptions& options) {
    share::MeasureSettings settings = context.measure_settings();
    if (options.method == "motion") settings.method = posing::Method::motion;
    if (options.method == "landmarks") settings.method = posing::Method::landmarks;
    settings.jobs = options.jobs;
    return settings;
}

/// To the file or standard output where a document was asked for, else a table for a person.
Status print_analysis(const posing::Analysis& analysis, const AnalyzeOptions& options) {
    if (options.json.empty()) {
        fmt::print("{}", segment_table(analysis));
        for (const auto& warning : analysis.clip.warnings) fmt::print("Note: {}\n", warning);
        return ok();
    }
    const std::string text = posing::write_analysis(analysis, options.signals);
    if (options.json != "-") return write_file(options.json, text);
    std::fwrite(text.data(), 1, text.size(), stdout);
    return ok();
}

Status analyze_film(const Context& context, const AnalyzeOptions& options) {
    share::FilmKnowledge knowledge;
    if (!options.rules.empty()) {
        auto rule_set = rules::load_rule_set(options.rules, context.library_folder() / "rules");
        if (!rule_set) return rule_set.error();
        knowledge.rule_set = std::move(*rule_set);
    }
    knowledge.height_cm = options.height_cm;
    knowledge.mirrored = options.mirrored;
    knowledge.time_scale = options.time_scale;
    knowledge.rotation_deg = options.rotation_deg;
    knowledge.tilt_deg = options.tilt_deg;
    auto settings = measure_settings(context, options);
    say_if_model_is_missing(settings);
    auto line = std::make_unique<ProgressLine>();
    settings.progress = [&](double share) { line->show(share, options.clip); };
    const auto analysis = share::measure_film(options.clip, knowledge, settings);
    line.reset();
    return analysis ? print_analysis(*analysis, options) : Status{analysis.error()};
}

/// Clips of the library that are asked for, those that count first.
Result<std::vector<const journal::Clip*>> chosen_clips(const OpenLibrary& library, const AnalyzeOptions& options) {
    std::vector<const journal::Clip*> clips;
    std::string session;
    if (!options.session.empty()) {
        const auto found = find_session(library.now, options.session);
        if (!found) return found.error();
        session = found->id;
    }
    for (const auto& clip : library.now.clips) {
        if (session.empty() || clip.session == session) clips.push_back(&clip);
    }
    return clips;
}

Status analyze_clips(Context& context, const AnalyzeOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    const auto clips = chosen_clips(*library, options);
    if (!clips) return clips.error();
    const auto settings = share::with_choices_of(library->now, measure_settings(context, options));
    say_if_model_is_missing(settings);
    const auto outcome = measure_clips(library->store, library->now, *clips, settings, options.jobs);
    if (!outcome) return outcome.error();
    fmt::print("{} of {} clips measured.\n", clips->size() - outcome->failures.size(), clips->size());
    for (const auto& sentence : outcome->failures) fmt::print(stderr, "quarterturn: {}\n", sentence);
    if (!outcome->failures.empty()) context.exit = ExitCode::problems_found;
    return ok();
}

}  // namespace

void add_analyze(CLI::App& app, Context& context) {
    const auto options = std::make_shared<AnalyzeOptions>();
    CLI::App* command = add_command(
        app, context, "analyze", "Measure one film, or the clips of the library", [&context, options]() -> Status {
            // Which of them is missing cannot be said with options alone.
            if (options->clip.empty() && !options->all && options->session.empty())
                throw CLI::RequiredError("A film, --all or --session");
            return options->clip.empty() ? analyze_clips(context, *options) : analyze_film(context, *options);
        });
    command->add_option("clip", options->clip, "The film; no library is needed");
    command->add_option("--rules", options->rules, "Rule set id or JSON file: gives the poses in call order");
    command->add_option("--height-cm", options->height_cm, "Standing height, heels included")
        ->check(number_from(50.0, 260.0));
    command->add_option("--method", options->method, "Default: landmarks if the model is there, else motion")
        ->check(CLI::IsMember({"landmarks", "motion"}));
    command->add_option("--time-scale", options->time_scale, "True seconds per second played, for slow motion")
        ->check(number_from(0.01, 100.0));
    command->add_flag("--mirrored", options->mirrored, "Left and right are swapped in the film");
    command->add_option("--rotation", options->rotation_deg, "Instead of the file's own rotation, counter-clockwise")
        ->check(CLI::IsMember({0, 90, 180, -90}));
    command
        ->add_option("--tilt", options->tilt_deg,
                     "Turn clockwise by so many degrees to make the room upright; 0: it is (default: estimated)")
        ->check(number_from(-44.9, 44.9));
    command->add_flag("--signals", options->signals, "Add the curves over time to the document");
    command->add_option("--json", options->json, "Write the analysis document to a file, or - for standard output");
    command->add_flag("--all", options->all, "Every clip of the library that is not measured yet");
    command->add_option("--session", options->session, "The clips of one session (date or id)");
    command->add_option("--jobs", options->jobs, "Clips or parts measured at the same time (default: one per core)")
        ->check(whole_number_from(1, 256));
}

}  // namespace quarterturn::cli
