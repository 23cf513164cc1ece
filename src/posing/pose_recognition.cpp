#include "posing/pose_recognition.hpp"

#include <algorithm>
#include <cmath>

#include "posing/pose_templates.hpp"
#include "rules/pose.hpp"

namespace quarterturn::posing {
namespace {

constexpr double most_by_order = 0.5;

std::vector<double> misfits_of(const PoseFeatures& features, const RecognitionSettings& settings) {
    const auto unasked = [&](std::string_view pose) {
        return !pose.empty() && !settings.asked.empty() &&
               std::find(settings.asked.begin(), settings.asked.end(), pose) == settings.asked.end();
    };
    std::vector<double> out;
    for (const PoseTemplate& pose : pose_templates())
        out.push_back(misfit(pose, features) + (unasked(pose.pose) ? settings.not_asked : 0));
    out.push_back(settings.reject);
    return out;
}

std::optional<std::size_t> template_of(std::string_view pose) {
    const auto all = pose_templates();
    const auto found = std::find_if(all.begin(), all.end(), [&](const PoseTemplate& t) { return t.pose == pose; });
    return found == all.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - all.begin()));
}

/// What one hold looks like.
struct Looks {
    std::vector<double> misfits, shares;
    std::size_t best = 0;
    [[nodiscard]] bool none() const { return best == pose_templates().size(); }
    [[nodiscard]] bool pause() const { return !none() && pose_templates()[best].pose.empty(); }
    [[nodiscard]] double behind(std::size_t other) const { return misfits[other] - misfits[best]; }
};

std::vector<double> shares_from(const std::vector<double>& misfits) {
    const double least = *std::min_element(misfits.begin(), misfits.end());
    std::vector<double> shares;
    double sum = 0;
    for (const double value : misfits) {
        shares.push_back(std::exp(least - value));
        sum += shares.back();
    }
    for (double& share : shares) share /= sum;
    return shares;
}

Looks looks_of(const PoseFeatures& features, const RecognitionSettings& settings) {
    Looks looks;
    looks.misfits = misfits_of(features, settings);
    looks.shares = shares_from(looks.misfits);
    looks.best =
        static_cast<std::size_t>(std::min_element(looks.misfits.begin(), looks.misfits.end()) - looks.misfits.begin());
    return looks;
}

std::optional<std::string> side_of(std::string_view pose, std::optional<double> facing) {
    const rules::Pose* known = rules::find_pose(pose);
    if (known == nullptr || !known->either_side || !facing) return std::nullopt;
    return std::sin(*facing * 3.14159265358979323846 / 180) >= 0 ? "left" : "right";
}

Recognised named(std::string pose, double confidence, PoseSource source, const PoseFeatures& features) {
    Recognised out;
    out.side = side_of(pose, features.facing_deg);
    out.pose = std::move(pose);
    out.confidence = std::clamp(confidence, 0.0, source == PoseSource::order ? most_by_order : 1.0);
    out.source = source;
    return out;
}

Recognised unnamed(std::string reason, bool pause, double confidence) {
    Recognised out;
    out.reason = std::move(reason);
    out.pause = pause;
    out.confidence = confidence;
    return out;
}

/// By the body alone.
Recognised by_body(const Looks& looks, const PoseFeatures& features, const RecognitionSettings& settings) {
    if (features.pictures == 0) return unnamed("nobody was seen during it", false, 0);
    if (looks.none()) return unnamed("the posture is like none of the known poses", false, 0);
    const PoseTemplate& best = pose_templates()[looks.best];
    if (looks.pause()) return unnamed(std::string(best.name), true, looks.shares[looks.best]);
    if (looks.shares[looks.best] < settings.sure / 1.5) return unnamed("the posture is like several poses", false, 0);
    const double seen = 0.5 + 0.5 * share_seen(best, features);
    return named(std::string(best.pose), looks.shares[looks.best] * seen, PoseSource::body, features);
}

/// The order's label against the body's.
Recognised settle(const Looks& looks, const PoseFeatures& features, const std::string& called, double probability,
                  const RecognitionSettings& settings) {
    const Recognised body = by_body(looks, features, settings);
    const std::optional<std::size_t> known = template_of(called);
    const double behind = known ? looks.behind(*known) : 0;  // a pose of the person's own has no template
    if (body.pose == called) {
        Recognised out = body;
        out.confidence += (1 - out.confidence) * 0.5 * probability;
        return out;
    }
    // Somebody who stands about does so between any two calls: the order says little against it.
    if (looks.pause() && looks.shares[looks.best] >= 0.4) return body;
    const bool body_is_sure = looks.shares[looks.best] >= settings.sure && !looks.none();
    if (body_is_sure || behind > settings.order_may_cost || features.pictures == 0) return body;
    return named(called, most_by_order * probability, PoseSource::order, features);
}

}  // namespace

std::vector<double> shares_of(const PoseFeatures& features, const RecognitionSettings& settings) {
    return shares_from(misfits_of(features, settings));
}

std::vector<Recognised> recognise(std::span<const PoseFeatures> holds, std::span<const double> lengths_s,
                                  std::span<const std::string> call_order, const CallOrderCosts& costs,
                                  const RecognitionSettings& settings) {
    std::vector<Looks> looks;
    for (const PoseFeatures& features : holds) looks.push_back(looks_of(features, settings));
    std::vector<Recognised> out;
    if (call_order.empty()) {
        for (std::size_t i = 0; i < holds.size(); ++i) out.push_back(by_body(looks[i], holds[i], settings));
        return out;
    }
    constexpr double most_behind = 12;
    const LooksCost cost = [&](std::size_t hold, std::size_t call) {
        const std::optional<std::size_t> known = template_of(call_order[call]);
        return known ? settings.looks_share * std::min(most_behind, looks[hold].behind(*known)) : 0.5;
    };
    const std::vector<CalledHold> called = align_with_call_order(lengths_s, call_order, cost, costs);
    for (std::size_t i = 0; i < holds.size(); ++i)
        out.push_back(called[i].call
                          ? settle(looks[i], holds[i], call_order[*called[i].call], called[i].probability, settings)
                          : by_body(looks[i], holds[i], settings));
    return out;
}

}  // namespace quarterturn::posing
