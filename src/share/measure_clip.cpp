#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "journal/cache.hpp"
#include "journal/clip_files.hpp"
#include "media/fingerprint_of.hpp"
#include "posing/analysis_json.hpp"
#include "rules/rule_set_json.hpp"
#include "share/measure.hpp"
#include "share/measure_method.hpp"

namespace quarterturn::share {
namespace {

/// FNV-1a, 64 bit (public domain; http://www.isthe.com/chongo/tech/comp/fnv, from memory): short, and the same on every
/// machine, which std::hash is not.
std::uint64_t fnv1a(std::string_view bytes) {
    std::uint64_t hash = 0xcbf29ce484222325ULL;
    for (const char byte : bytes) hash = (hash ^ static_cast<std::uint8_t>(byte)) * 0x100000001b3ULL;
    return hash;
}

/// Everything the analysis depends on beside the film's bytes.
std::string cache_key(const FilmKnowledge& known, posing::Method method, const MeasureSettings& settings) {
    const std::string rules = known.rule_set ? rules::write_rule_set(*known.rule_set) : "";
    std::string all =
        fmt::format("{}|{:.3f}|{:.9g}|{}|{}|{:.3f}", rules, known.height_cm.value_or(-1), known.time_scale,
                    known.mirrored, known.rotation_deg.value_or(-1), known.tilt_deg.value_or(0));
    // Told apart from an estimated one, which earlier entries have as 0.
    if (known.tilt_deg && std::abs(*known.tilt_deg) < 0.0005) all += "|level";
    if (method == posing::Method::landmarks) all += athlete_words(known);
    if (method == posing::Method::landmarks)
        all += fmt::format("|{}", body::name_of(settings.model_size.value_or(body::ModelSize::full)));
    return fmt::format("{}-{}-{:016x}", method == posing::Method::landmarks ? "landmarks" : "motion", measure_version,
                       fnv1a(all));
}

/// What holds for all clips of a session. nullopt: its season is not there.
std::optional<Result<FilmKnowledge>> knowledge_of_session(const journal::Store& store, const journal::Library& library,
                                                          const std::string& id) {
    const auto* session = library.find_session(id);
    const auto* season = session != nullptr ? library.find_season(session->season) : nullptr;
    if (season == nullptr) return std::nullopt;
    auto rule_set = rule_set_of(store, *season);
    if (!rule_set) return rule_set.error();
    FilmKnowledge known;
    known.rule_set = std::move(*rule_set);
    known.height_cm = journal::standing_height_cm(library.athlete, *season, *session);
    return known;
}

FilmKnowledge with_clip(FilmKnowledge known, const journal::Clip& clip) {
    known.time_scale = clip.time_scale;
    known.mirrored = clip.mirrored;
    known.rotation_deg = clip.rotation_deg;
    known.tilt_deg = clip.tilt_deg;
    known.athlete_at = clip.athlete_at;
    known.fingerprint = clip.fingerprint();
    return known;
}

/// Of cache_key(): the number between the method and the rest.
bool is_of_this_version(std::string_view key) {
    const std::size_t from = key.find('-');
    return from != std::string_view::npos && key.substr(from + 1).starts_with(fmt::format("{}-", measure_version));
}

MeasuredState state_of(const std::vector<std::string>& kept, const std::string& wanted) {
    if (std::find(kept.begin(), kept.end(), wanted) != kept.end()) return MeasuredState::measured;
    if (std::any_of(kept.begin(), kept.end(), is_of_this_version)) return MeasuredState::other_settings;
    return kept.empty() ? MeasuredState::not_measured : MeasuredState::older_version;
}

}  // namespace

std::string_view measured_state_id(MeasuredState state) {
    switch (state) {
        case MeasuredState::measured:
            return "measured";
        case MeasuredState::older_version:
            return "older_version";
        case MeasuredState::other_settings:
            return "other_settings";
        case MeasuredState::not_measured:
            break;
    }
    return "not_measured";
}

Result<FilmKnowledge> knowledge_of(const journal::Store& store, const journal::Library& library,
                                   const journal::Clip& clip) {
    const auto known = knowledge_of_session(store, library, clip.session);
    if (!known)
        return Error{ErrorCode::not_found, fmt::format("The season of {} is not in this library.", clip.original_name)};
    return *known ? Result<FilmKnowledge>(with_clip(**known, clip)) : known->error();
}

MeasureSettings with_choices_of(const journal::Library& library, MeasureSettings settings) {
    if (!settings.model_size) settings.model_size = body::model_size_named(library.athlete.model_size);
    return settings;
}

std::optional<posing::Analysis> cached_analysis(const journal::Store& store, const journal::Library& library,
                                                const journal::Clip& clip, const MeasureSettings& given) {
    const MeasureSettings settings = with_choices_of(library, given);
    const auto known = knowledge_of(store, library, clip);
    if (!known) return std::nullopt;
    const auto method = method_for(settings);
    if (!method) return std::nullopt;
    const auto text = journal::Cache{store.cache_folder()}.read(journal::CacheKind::analysis, clip.fingerprint(),
                                                                cache_key(*known, *method, settings));
    if (!text) return std::nullopt;
    auto analysis = posing::read_analysis(*text);
    if (!analysis) return std::nullopt;  // a broken entry of the cache is not there
    return std::move(*analysis);
}

std::map<std::string, MeasuredState> measured_states(const journal::Store& store, const journal::Library& library,
                                                     const MeasureSettings& given) {
    std::map<std::string, MeasuredState> states;
    const MeasureSettings settings = with_choices_of(library, given);
    const auto method = method_for(settings);
    const journal::Cache cache(store.cache_folder());
    std::map<std::string, std::optional<Result<FilmKnowledge>>> of_session;  // a rule set is a document of its own
    for (const journal::Clip& clip : library.clips) {
        if (!of_session.contains(clip.session))
            of_session.emplace(clip.session, knowledge_of_session(store, library, clip.session));
        const auto& known = of_session.at(clip.session);
        const bool can_be_told = method && known && *known;
        states[clip.id] = state_of(cache.keys(journal::CacheKind::analysis, clip.id),
                                   can_be_told ? cache_key(with_clip(**known, clip), *method, settings) : "");
    }
    return states;
}

Result<posing::Analysis> measure_clip(const journal::Store& store, const journal::Library& library,
                                      const journal::Clip& clip, const MeasureSettings& given) {
    const MeasureSettings settings = with_choices_of(library, given);
    if (auto cached = cached_analysis(store, library, clip, settings)) return std::move(*cached);
    const auto known = knowledge_of(store, library, clip);
    if (!known) return known.error();
    const auto method = method_for(settings);
    if (!method) return method.error();
    const auto file = journal::find_clip_file(
        store.folder(), clip, {}, [&](const auto& path) { return media::fingerprint_of(path, settings.stop); });
    if (!file) return file.error();
    MeasureSettings keeping = settings;
    keeping.cache_folder = store.cache_folder();
    auto analysis = measure_film(*file, *known, keeping);
    if (!analysis) return analysis;
    // The cache only saves time; a library for reading only works without it.
    (void)journal::Cache{store.cache_folder()}
        .write(journal::CacheKind::analysis, clip.fingerprint(), cache_key(*known, *method, settings),
               posing::write_analysis(*analysis, true))
        .has_value();
    return analysis;
}

}  // namespace quarterturn::share
