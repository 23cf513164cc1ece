#pragma once
/// From a film to its analysis: the whole way, for a bare file and for a clip of a library. What the command line and
/// the window both call.
#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "body/landmark_series.hpp"
#include "body/model_files.hpp"
#include "journal/store.hpp"
#include "posing/analysis.hpp"
#include "rules/rule_set.hpp"

namespace quarterturn::share {

/// How to measure; the same for every clip.
struct MeasureSettings {
    std::optional<posing::Method> method;       ///< absent: landmarks if the model is there, else motion
    std::filesystem::path model_folder;         ///< empty: what came with the program
    std::optional<body::ModelSize> model_size;  ///< absent: the library's, else full
    int jobs = 0;                        ///< threads for one film; 0: one per core. The result does not depend on it
    std::filesystem::path cache_folder;  ///< where landmark series are kept; empty: nowhere
    std::stop_token stop;
    std::function<void(double)> progress;  ///< told 0..1 now and then, from the calling thread; may be empty
};

/// What a person knows about a film beyond the film itself.
struct FilmKnowledge {
    std::optional<rules::RuleSet> rule_set;
    std::optional<double> height_cm;  ///< standing, heels included
    double time_scale = 1;            ///< true seconds per stored second
    bool mirrored = false;
    std::optional<int> rotation_deg;  ///< instead of the file's
    std::optional<double> tilt_deg;   ///< clockwise turn that makes the room upright, 0: level; absent: estimated
    std::optional<journal::AthleteShown> athlete_at;  ///< in a film with several people
    std::string fingerprint;                          ///< when known already; empty: computed
};

/// Pure function of (the file's bytes, what is known, the program's version).
/// @error as media::probe; missing_part: landmarks asked for without a model; cancelled
[[nodiscard]] Result<posing::Analysis> measure_film(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                                    const MeasureSettings& settings);

/// The rule set a season uses, with its choices and the person's own goals for hold times.
/// @param rules_folder  the library's own rule sets (journal::Store::rules_folder); may be empty
/// @error as rules::load_rule_set and rules::with_choices
[[nodiscard]] Result<rules::RuleSet> season_rules(const journal::Season& season,
                                                  const std::filesystem::path& rules_folder);
[[nodiscard]] Result<rules::RuleSet> rule_set_of(const journal::Store& store, const journal::Season& season);

/// What the library knows about one of its clips: the season's rule set with its choices and goals, height and heels,
/// speed, mirroring.
/// @error not_found: its session or season is not there; as rules::load_rule_set
[[nodiscard]] Result<FilmKnowledge> knowledge_of(const journal::Store& store, const journal::Library& library,
                                                 const journal::Clip& clip);

/// `settings` with what the library says where they are silent: the model's size.
[[nodiscard]] MeasureSettings with_choices_of(const journal::Library& library, MeasureSettings settings);

/// The name under which a clip's landmark series is kept (journal::CacheKind::landmarks): everything it depends on
/// beside the film's bytes.
[[nodiscard]] std::string landmark_key(const FilmKnowledge& knowledge, const MeasureSettings& settings);

/// The landmarks a clip was measured with; absent when they are not kept.
[[nodiscard]] std::optional<body::LandmarkSeries> cached_landmarks(const journal::Store& store,
                                                                   const journal::Library& library,
                                                                   const journal::Clip& clip,
                                                                   const MeasureSettings& settings);

/// The landmarks alone, without measuring; kept in settings.cache_folder when there is one.
/// @error as body::load_models, media::build_index and body::clip_landmarks
[[nodiscard]] Result<body::LandmarkSeries> film_landmarks(const std::filesystem::path& film,
                                                          const FilmKnowledge& knowledge,
                                                          const MeasureSettings& settings);

/// The analysis of a clip from the library's cache; absent when it has to be computed (again).
[[nodiscard]] std::optional<posing::Analysis> cached_analysis(const journal::Store& store,
                                                              const journal::Library& library,
                                                              const journal::Clip& clip,
                                                              const MeasureSettings& settings);

/// Whether a clip's analysis is at hand.
enum class MeasuredState {
    not_measured,
    older_version,   ///< only by a version of the program that measured differently
    other_settings,  ///< only as it was set before: another tilt, rule set, height...
    measured
};
/// For documents: "not_measured".
[[nodiscard]] std::string_view measured_state_id(MeasuredState state);

/// Of all clips of the library, by fingerprint. Reads no analysis: looks at what the cache is called.
[[nodiscard]] std::map<std::string, MeasuredState> measured_states(const journal::Store& store,
                                                                   const journal::Library& library,
                                                                   const MeasureSettings& settings);

/// From the cache, else measured and put there. A cache that cannot be written only costs time.
[[nodiscard]] Result<posing::Analysis> measure_clip(const journal::Store& store, const journal::Library& library,
                                                    const journal::Clip& clip, const MeasureSettings& settings);

}  // namespace quarterturn::share
