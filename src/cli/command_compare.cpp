/// quarterturn compare: two films, clips or sessions, pose by pose.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <set>

#include "base/file.hpp"
#include "cli/comparison_table.hpp"
#include "cli/context.hpp"
#include "cli/library_access.hpp"
#include "cli/measure_clips.hpp"
#include "cli/progress_line.hpp"
#include "cli/ranges.hpp"
#include "compare/comparison_json.hpp"
#include "media/fingerprint_of.hpp"
#include "rules/rule_sets.hpp"
#include "share/compare_films.hpp"
#include "share/side_by_side.hpp"

namespace quarterturn::cli {
namespace {

struct CompareOptions {
    std::string now, before, rules, pose, json, still, look, film, method;
    std::optional<double> height_cm;
    bool mirrored_now = false, mirrored_before = false, match_light = false, no_sound = false, hide = false;
};

/// What the two sides are compared by.
struct Sides {
    share::ComparedSide now, before;
    compare::ComparisonSettings settings;
};

Result<std::optional<rules::RuleSet>> wanted_rules(const Context& context, const CompareOptions& options) {
    if (options.rules.empty()) return std::optional<rules::RuleSet>{};
    auto rule_set = rules::load_rule_set(options.rules, context.library_folder() / "rules");
    if (!rule_set) return rule_set.error();
    return std::optional{std::move(*rule_set)};
}

bool is_film(const std::string& name) {
    std::error_code failure;
    return std::filesystem::is_regular_file(name, failure);
}

constexpr const char* same_film = "Both sides are the same film. Name this season's film first, then the earlier one.";

/// Told before anything is measured, which takes a while.
Status check_films(const CompareOptions& options, const std::stop_token& stop) {
    if (!is_film(options.now) || !is_film(options.before)) return ok();
    const auto now = media::fingerprint_of(options.now, stop);
    if (!now) return now.error();
    const auto before = media::fingerprint_of(options.before, stop);
    if (!before) return before.error();
    return *now == *before ? Status{Error{ErrorCode::bad_input, same_film}} : ok();
}

Result<share::ComparedSide> bare_film(const std::string& name, bool mirrored, const CompareOptions& options,
                                      const std::optional<rules::RuleSet>& rules,
                                      const share::MeasureSettings& settings) {
    share::FilmKnowledge knowledge;
    knowledge.rule_set = rules;
    knowledge.height_cm = options.height_cm;
    knowledge.mirrored = mirrored;
    return share::compared_film(name, knowledge, settings);
}

/// A clip's name or a session's date or id.
Result<share::ComparedSide> from_library(const OpenLibrary& library, const std::string& name,
                                         const share::MeasureSettings& settings) {
    if (const auto clip = find_clip(library.now, name))
        return share::compared_clips(library.store, library.now, {library.now.find_clip(clip->id)}, settings);
    const auto session = find_session(library.now, name);
    if (!session)
        return Error{ErrorCode::not_found,
                     fmt::format("{} is no film file, and the library knows no clip or session by that name.", name)};
    return share::compared_session(library.store, library.now, *session, settings);
}

/// The earlier session that fits best, where no second side is named.
Result<std::string> proposed_before(const OpenLibrary& library, const std::string& now,
                                    const share::MeasureSettings& settings) {
    std::string session;
    if (const auto clip = find_clip(library.now, now)) {
        session = clip->session;
    } else {
        const auto found = find_session(library.now, now);
        if (!found) return found.error();
        session = found->id;
    }
    const auto matches =
        share::proposed_matches(library.store, library.now, *library.now.find_session(session), settings);
    if (matches.empty())
        return Error{ErrorCode::not_found, "There is no earlier season to compare with. Name a film or a session."};
    fmt::print(stderr, "Compared with the session of {}.\n", matches.front().reason);
    return matches.front().session;
}

/// Somebody who mistyped a film's name is told so, and not that there is no library.
Error no_side(const CompareOptions& options, const Error& no_library) {
    const std::string& name = is_film(options.now) ? options.before : options.now;
    if (no_library.code != ErrorCode::not_found || name.empty()) return no_library;
    return {ErrorCode::not_found, fmt::format("{} is no film file, and there is no library to look it up in.", name)};
}

Status measure_sides(const Context& context, CompareOptions& options, Sides& sides) {
    const auto rules = wanted_rules(context, options);
    if (!rules) return rules.error();
    sides.settings.rules = *rules;
    if (!options.pose.empty()) sides.settings.pose = options.pose;
    sides.settings.silhouettes = !options.hide;
    auto settings = context.measure_settings();
    if (options.method == "motion") settings.method = posing::Method::motion;
    if (options.method == "landmarks") settings.method = posing::Method::landmarks;
    say_if_model_is_missing(settings);
    std::optional<OpenLibrary> library;
    if (!is_film(options.now) || !is_film(options.before)) {
        auto opened = open_library(context);
        if (!opened) return no_side(options, opened.error());
        library = std::move(*opened);
        if (library->now.athlete.hide_body_numbers) sides.settings.silhouettes = false;
        if (options.before.empty()) {
            const auto before = proposed_before(*library, options.now, settings);
            if (!before) return before.error();
            options.before = *before;
        }
    }
    auto line = std::make_unique<ProgressLine>();
    const auto side = [&](const std::string& name, bool mirrored) {
        settings.progress = [&](double share) { line->show(share, name); };
        return is_film(name) ? bare_film(name, mirrored, options, *rules, settings)
                             : from_library(*library, name, settings);
    };
    auto now = side(options.now, options.mirrored_now);
    if (!now) return now.error();
    auto before = side(options.before, options.mirrored_before);
    if (!before) return before.error();
    sides.now = std::move(*now);
    sides.before = std::move(*before);
    if (library) {
        sides.settings.pins = share::pins_between(library->now, sides.now, sides.before);
        if (!sides.settings.rules) {
            const auto known = share::rules_of_side(library->store, library->now, sides.now);
            if (known) sides.settings.rules = *known;
        }
    }
    return ok();
}

Status check_sides(const Sides& sides) {
    for (const auto& now : sides.now.fingerprints())
        for (const auto& before : sides.before.fingerprints())
            if (now == before) return Error{ErrorCode::bad_input, same_film};
    return ok();
}

Error nothing_in_common(const compare::Comparison& comparison, const std::string& pose) {
    if (!pose.empty())
        return {ErrorCode::not_found, fmt::format("The pose {} is not held in both.", compare::pose_title(pose))};
    const auto poses = [&](bool is_now) {
        std::set<std::string> names;
        for (const auto& unpaired : comparison.unpaired)
            if (unpaired.is_now == is_now && unpaired.pose) names.insert(compare::pose_title(*unpaired.pose));
        return names.empty() ? std::string{"no hold with a known pose (--rules may help)"}
                             : fmt::format("{}", fmt::join(names, ", "));
    };
    return {ErrorCode::not_found,
            fmt::format("No pose is held in both, so nothing can be compared. Now: {}. Before: {}.", poses(true),
                        poses(false))};
}

Status print_comparison(const compare::Comparison& comparison, const CompareOptions& options,
                        const rules::RuleSet* rules) {
    if (options.json.empty()) {
        fmt::print("{}", comparison_table(comparison, rules));
        return ok();
    }
    const std::string text = compare::write_comparison(comparison, rules);
    if (options.json != "-") return write_file(options.json, text);
    std::fwrite(text.data(), 1, text.size(), stdout);
    return ok();
}

/// Stills and films; what is printed to standard output is left alone when the document goes there.
Status write_pictures(const Context& context, const CompareOptions& options, const Sides& sides,
                      const compare::Comparison& comparison) {
    share::SideBySide how;
    how.rules = sides.settings.rules ? &*sides.settings.rules : nullptr;
    how.match_light = options.match_light;
    how.sound = !options.no_sound;
    how.models = context.measure_settings();
    if (options.look == "over") how.look = share::Look::over;
    if (options.look == "edge") how.look = share::Look::edge;
    if (options.look == "outline") how.look = share::Look::outline;
    how.stop = context.stop;
    if (!options.still.empty()) {
        const auto written = share::write_pair_still(sides.now, sides.before, comparison, how, options.still);
        if (!written) return written.error();
        for (const auto& remark : *written) fmt::print(stderr, "Note: {}\n", remark);
    }
    if (options.film.empty()) return ok();
    ProgressLine line;
    how.progress = [&](double share) { line.show(share, options.film); };
    return share::write_side_by_side_film(sides.now, sides.before, comparison, how, options.film);
}

Status run_compare(const Context& context, CompareOptions options) {
    if (Status two = check_films(options, context.stop); !two) return two;
    Sides sides;
    if (Status measured = measure_sides(context, options, sides); !measured) return measured;
    if (Status fine = check_sides(sides); !fine) return fine;
    const auto comparison = compare::compare_takes(sides.now.takes(), sides.before.takes(), sides.settings);
    if (comparison.pairs.empty()) return nothing_in_common(comparison, options.pose);
    const auto* rules = sides.settings.rules ? &*sides.settings.rules : nullptr;
    if (Status printed = print_comparison(comparison, options, rules); !printed) return printed;
    return write_pictures(context, options, sides, comparison);
}

}  // namespace

void add_compare(CLI::App& app, Context& context) {
    const auto options = std::make_shared<CompareOptions>();
    CLI::App* command = add_command(app, context, "compare", "This film or session beside an earlier one, pose by pose",
                                    [&context, options] { return run_compare(context, *options); });
    command->add_option("now", options->now, "A film, or a clip or session (date or id) of the library")->required();
    command->add_option("before", options->before,
                        "The earlier one (default for the library: the session of an earlier season that fits best)");
    command->add_option("--rules", options->rules,
                        "Rule set id or JSON file: poses in call order, checklist for scores");
    command->add_option("--height-cm", options->height_cm, "Standing height, heels included, for bare films")
        ->check(number_from(50.0, 260.0));
    command->add_option("--method", options->method, "Default: landmarks if the model is there, else motion")
        ->check(CLI::IsMember({"landmarks", "motion"}));
    command->add_option("--pose", options->pose, "Only this pose (id)");
    command->add_flag("--mirrored-now", options->mirrored_now, "Left and right are swapped in the first film");
    command->add_flag("--mirrored-before", options->mirrored_before, "Left and right are swapped in the earlier film");
    command->add_option("--json", options->json, "Write the comparison document to a file, or - for standard output");
    command->add_option("--still", options->still, "Write the pose's steadiest moments side by side as PNG");
    command
        ->add_option("--look", options->look,
                     "How the still shows both: beside each other (default), over each other half seen through, with\n"
                     "an edge down the middle, or this one with the outline of the earlier silhouette")
        ->check(CLI::IsMember({"beside", "over", "edge", "outline"}));
    command->add_option("--film", options->film, "Write both side by side and in step as MP4");
    command->add_flag("--match-light", options->match_light,
                      "Bring the earlier picture's exposure and white balance to the later one's");
    command->add_flag("--no-sound", options->no_sound, "Leave the sound out of the film");
    command->add_flag("--hide-body-numbers", options->hide, "Leave out widths of the outline");
}

}  // namespace quarterturn::cli
