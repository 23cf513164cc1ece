#include <fmt/format.h>

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
    std::string all = fmt::format("{}|{:.3f}|{:.9g}|{}|{}|{:.3f}", rules, known.height_cm.value_or(-1),
                                  known.time_scale, known.mirrored, known.rotation_deg.value_or(-1), known.tilt_deg);
    if (method == posing::Method::landmarks) all += athlete_words(known);
    if (method == posing::Method::landmarks)
        all += fmt::format("|{}", body::name_of(settings.model_size.value_or(body::ModelSize::full)));
    return fmt::format("{}-{}-{:016x}", method == posing::Method::landmarks ? "landmarks" : "motion", measure_version,
                       fnv1a(all));
}

}  // namespace

Result<FilmKnowledge> knowledge_of(const journal::Store& store, const journal::Library& library,
                                   const journal::Clip& clip) {
    const auto* session = library.find_session(clip.session);
    const auto* season = session != nullptr ? library.find_season(session->season) : nullptr;
    if (season == nullptr)
        return Error{ErrorCode::not_found, fmt::format("The season of {} is not in this library.", clip.original_name)};
    auto rule_set = rule_set_of(store, *season);
    if (!rule_set) return rule_set.error();
    FilmKnowledge known;
    known.rule_set = std::move(*rule_set);
    known.height_cm = journal::standing_height_cm(library.athlete, *season, *session);
    known.time_scale = clip.time_scale;
    known.mirrored = clip.mirrored;
    known.rotation_deg = clip.rotation_deg;
    known.tilt_deg = clip.tilt_deg;
    known.athlete_at = clip.athlete_at;
    known.fingerprint = clip.fingerprint();
    return known;
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
