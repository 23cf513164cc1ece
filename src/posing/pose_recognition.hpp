#pragma once
/// Which pose a hold is: what the body looks like, helped but not forced by the order in which poses are called.
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "posing/analysis.hpp"
#include "posing/call_order.hpp"
#include "posing/pose_features.hpp"
#include "posing/still_stretches.hpp"

namespace quarterturn::posing {

struct RecognitionSettings {
    std::vector<std::string> asked;  ///< pose ids of the division; others count `not_asked` nats worse; empty: any
    double not_asked = 1.0;
    double reject = 6.5;          ///< nats: a posture that fits every pose worse is none of them; one sign may be wrong
    double sure = 0.6;            ///< posterior from which the body decides against the call order
    double order_may_cost = 4.0;  ///< nats: the order never names a pose that fits so much worse than the best
    double looks_share = 0.35;    ///< of a nat of misfit in the costs of the call order
};

/// A still stretch with its label.
struct Recognised {
    bool pause = false;               ///< no pose: standing about, hands in the hair
    std::optional<std::string> pose;  ///< id; absent: not recognised, or a pause
    std::string reason;               ///< why there is no pose
    double confidence = 0;  ///< 0..1: posterior share, less what was not seen; at most 0.5 from the order alone
    PoseSource source = PoseSource::none;
    std::optional<std::string> side;  ///< side to the judges in poses that allow either
};

/// One posterior share per template of pose_templates(), and the last one for "none of them".
[[nodiscard]] std::vector<double> shares_of(const PoseFeatures& features, const RecognitionSettings& settings = {});

/// @param holds       what each still stretch looks like, in order
/// @param lengths_s   as long as holds
/// @param call_order  pose ids; empty: by the body alone
[[nodiscard]] std::vector<Recognised> recognise(std::span<const PoseFeatures> holds, std::span<const double> lengths_s,
                                                std::span<const std::string> call_order,
                                                const CallOrderCosts& costs = {},
                                                const RecognitionSettings& settings = {});

}  // namespace quarterturn::posing
