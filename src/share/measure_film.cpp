#include "body/model_files.hpp"
#include "body/motion.hpp"
#include "posing/analyse.hpp"
#include "share/measure.hpp"
#include "share/measure_method.hpp"

namespace quarterturn::share {
namespace {

Result<posing::Analysis> measure_motion(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                        const MeasureSettings& settings) {
    body::MotionSettings motion;
    motion.threads = settings.jobs;
    motion.time_scale = knowledge.time_scale;
    motion.mirrored = knowledge.mirrored;
    motion.rotation_deg = knowledge.rotation_deg;
    const auto seen = body::observe_motion(film, motion, settings.stop, settings.progress);
    if (!seen) return seen.error();
    return posing::analyse_motion(*seen, knowledge.rule_set, analyse_settings(knowledge));
}

}  // namespace

std::optional<std::filesystem::path> chosen_model_folder(const MeasureSettings& settings) {
    if (settings.model_folder.empty()) return std::nullopt;
    return settings.model_folder;
}

Result<body::Models> chosen_models(const MeasureSettings& settings) {
    return body::load_models(settings.model_size.value_or(body::ModelSize::full), chosen_model_folder(settings));
}

posing::AnalyseSettings analyse_settings(const FilmKnowledge& knowledge) {
    posing::AnalyseSettings analyse;
    analyse.height_cm = knowledge.height_cm;
    return analyse;
}

Result<posing::Method> method_for(const MeasureSettings& settings) {
    if (settings.method == posing::Method::motion) return posing::Method::motion;
    const auto models = chosen_models(settings);
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
