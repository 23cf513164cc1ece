#include <fmt/format.h>

#include "body/model_files.hpp"
#include "body/motion.hpp"
#include "media/fingerprint_of.hpp"
#include "posing/analyse.hpp"
#include "share/measure.hpp"
#include "share/measure_method.hpp"

namespace quarterturn::share {

Result<posing::Method> method_for(const MeasureSettings& settings) {
    if (settings.method != posing::Method::landmarks) return posing::Method::motion;
    return Error{ErrorCode::missing_part, "This version measures from motion alone. Use --method motion."};
}

Result<posing::Analysis> measure_film(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                      const MeasureSettings& settings) {
    const auto method = method_for(settings);
    if (!method) return method.error();
    body::MotionSettings motion;
    motion.threads = settings.jobs;
    motion.time_scale = knowledge.time_scale;
    motion.mirrored = knowledge.mirrored;
    const auto seen = body::observe_motion(film, motion, settings.stop, settings.progress);
    if (!seen) return seen.error();
    posing::AnalyseSettings analyse;
    analyse.height_cm = knowledge.height_cm;
    return posing::analyse_motion(*seen, knowledge.rule_set, analyse);
}

}  // namespace quarterturn::share
