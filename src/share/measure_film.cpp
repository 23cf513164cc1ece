#include <fmt/format.h>

#include <algorithm>

#include "body/clip_landmarks.hpp"
#include "body/film_facts.hpp"
#include "body/model_files.hpp"
#include "body/motion.hpp"
#include "journal/cache.hpp"
#include "media/fingerprint_of.hpp"
#include "media/frame_index.hpp"
#include "media/probe.hpp"
#include "posing/analyse.hpp"
#include "posing/analyse_landmarks.hpp"
#include "share/measure.hpp"
#include "share/measure_method.hpp"

namespace quarterturn::share {
namespace {

/// Pictures looked at per true second.
constexpr double landmark_rate_hz = 15;

std::optional<std::filesystem::path> chosen_folder(const MeasureSettings& settings) {
    if (settings.model_folder.empty()) return std::nullopt;
    return settings.model_folder;
}

posing::AnalyseSettings analyse_settings(const FilmKnowledge& knowledge) {
    posing::AnalyseSettings analyse;
    analyse.height_cm = knowledge.height_cm;
    return analyse;
}

Result<posing::Analysis> measure_motion(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                        const MeasureSettings& settings) {
    body::MotionSettings motion;
    motion.threads = settings.jobs;
    motion.time_scale = knowledge.time_scale;
    motion.mirrored = knowledge.mirrored;
    const auto seen = body::observe_motion(film, motion, settings.stop, settings.progress);
    if (!seen) return seen.error();
    return posing::analyse_motion(*seen, knowledge.rule_set, analyse_settings(knowledge));
}

std::string series_key(const body::Models& models, double rate_hz) {
    return fmt::format("{}-{}-{:.3f}", body::name_of(models.size), body::landmark_version(), rate_hz);
}

/// The landmark series from the library's cache, else made and put there.
Result<body::LandmarkSeries> landmark_series(const std::filesystem::path& film, const media::FrameIndex& index,
                                             const std::string& fingerprint, double rate_hz,
                                             const MeasureSettings& settings) {
    const auto models = body::load_models(body::ModelSize::full, chosen_folder(settings));
    if (!models) return models.error();
    const journal::Cache cache{settings.cache_folder};
    const std::string key = series_key(*models, rate_hz);
    if (!settings.cache_folder.empty()) {
        if (const auto bytes = cache.read(journal::CacheKind::landmarks, fingerprint, key)) {
            if (auto series = body::load_series(*bytes)) return series;
        }
    }
    body::LandmarkSettings look;
    look.rate_hz = rate_hz;
    look.jobs = settings.jobs;
    look.progress = settings.progress;
    auto clip = body::clip_landmarks(film, index, *models, look, settings.stop);
    if (!clip) return clip.error();
    // The cache only saves time; measuring goes on without it.
    if (!settings.cache_folder.empty())
        (void)cache.write(journal::CacheKind::landmarks, fingerprint, key, body::save_series(clip->series)).has_value();
    return std::move(clip->series);
}

Result<posing::Analysis> measure_landmarks(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                           const MeasureSettings& settings) {
    const auto info = media::probe(film);
    if (!info) return info.error();
    const auto index = media::build_index(film, settings.stop);
    if (!index) return index.error();
    const auto fingerprint = knowledge.fingerprint.empty() ? media::fingerprint_of(film, settings.stop)
                                                           : Result<std::string>{knowledge.fingerprint};
    if (!fingerprint) return fingerprint.error();
    const auto series = landmark_series(film, *index, *fingerprint, landmark_rate_hz * knowledge.time_scale, settings);
    if (!series) return series.error();
    std::vector<std::int64_t> pts;
    for (const auto& picture : index->pictures) pts.push_back(picture.pts);
    body::ClipFacts facts = body::film_facts(film, *info, pts, knowledge.time_scale, knowledge.mirrored);
    facts.fingerprint = *fingerprint;
    facts.warnings = info->warnings;
    for (const auto* more : {&index->warnings, &series->warnings}) {
        for (const auto& warning : *more) {
            if (std::find(facts.warnings.begin(), facts.warnings.end(), warning) == facts.warnings.end())
                facts.warnings.push_back(warning);
        }
    }
    posing::LandmarkInput input{facts, *series, std::move(pts), {}, std::nullopt};
    if (knowledge.tilt_deg != 0) input.tilt_deg = knowledge.tilt_deg;
    return posing::analyse_landmarks(input, knowledge.rule_set, analyse_settings(knowledge)).analysis;
}

}  // namespace

Result<posing::Method> method_for(const MeasureSettings& settings) {
    if (settings.method == posing::Method::motion) return posing::Method::motion;
    const auto models = body::load_models(body::ModelSize::full, chosen_folder(settings));
    if (models) return posing::Method::landmarks;
    const bool only_missing = models.error().code == ErrorCode::missing_part;
    return only_missing && !settings.method ? Result<posing::Method>{posing::Method::motion} : models.error();
}

Result<posing::Analysis> measure_film(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                      const MeasureSettings& settings) {
    const auto method = method_for(settings);
    if (!method) return method.error();
    return *method == posing::Method::landmarks ? measure_landmarks(film, knowledge, settings)
                                                : measure_motion(film, knowledge, settings);
}

}  // namespace quarterturn::share
