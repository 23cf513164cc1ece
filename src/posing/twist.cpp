#include "posing/twist.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "body/steadied.hpp"

namespace quarterturn::posing {
namespace {

using Curve = std::vector<std::optional<double>>;

constexpr double degrees = 180 / std::numbers::pi;
constexpr double profile_within_deg = 20;
constexpr double trunk_turns_deg = 1.5;  // RMS of the pelvis
constexpr double least_amplitude_deg = 1;
// Found by experiment: at 0.0046 and above the curve was 0.3-1.7 degrees off, at 0.0034 and 0.0026 up to 1.6 and 2.3
// and too small; other films lose the skin at 0.0054.
constexpr double least_bits_per_pixel = 0.006;
constexpr std::size_t fewest_pictures = 10;
constexpr double fewest_share = 0.6, mostly = 0.75, hidden_mostly = 0.65;
// Smooth skin shows only a part of the pelvis' turn, found on drawn figures: at most 0.05 of the chest's when only the
// chest turns, 0.3 to 0.4 when both do. More than nearly all of it is no pelvis but an arm before it.
constexpr double shared_by_a_turn = 0.2, shared_by_an_arm = 0.9;
// The nearer hip joint lies half the distance of the joints before the middle, in shoulder widths (.191 / 2 of the
// height outside, Drillis and Contini 1966, from memory; the joints two thirds of it). Found on drawn right sides: 0.6
// to 0.9 of the chest's turn where the trunk turns; else less, or not with it.
constexpr double hip_beside_middle = 0.24, shared_by_a_hip = 0.5;
constexpr double goes_along = 0.8, goes_along_in_profile = 0.6;  // correlation

bool in_profile(double facing_deg) {
    return std::abs(std::abs(facing_deg) - 90) <= profile_within_deg;
}

struct Spread {
    double rms = 0, range = 0;
};

std::optional<Spread> spread_of(const Curve& curve) {
    std::vector<double> values;
    for (const auto& value : curve)
        if (value) values.push_back(*value);
    if (values.size() < fewest_pictures ||
        static_cast<double>(values.size()) < fewest_share * static_cast<double>(curve.size()))
        return std::nullopt;
    double sum = 0, squares = 0;
    for (const double value : values) sum += value;
    const double mean = sum / static_cast<double>(values.size());
    for (const double value : values) squares += (value - mean) * (value - mean);
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    return Spread{std::sqrt(squares / static_cast<double>(values.size())), *most - *least};
}

Curve turns_of(const body::BandMotion& band) {
    Curve out;
    for (const auto& at : band.pictures) out.push_back(at.turn_deg);
    return out;
}

Curve difference(const Curve& from, const Curve& what) {
    Curve out(from.size());
    for (std::size_t i = 0; i < from.size() && i < what.size(); ++i)
        if (from[i] && what[i]) out[i] = *from[i] - *what[i];
    return out;
}

/// Why the pictures cannot show it; empty when they can.
std::string unfit(const TwistEvidence& seen, bool profile) {
    if (seen.bits_per_pixel && *seen.bits_per_pixel < least_bits_per_pixel)
        return "the film is compressed too strongly to follow the skin";
    if (!seen.facing_deg) return "it is not known which way the body faces";
    if (seen.chest.pictures.size() < fewest_pictures) return "the body is followed in too few pictures";
    if (seen.chest.features < body::fewest_features) return "the chest shows too few details to follow";
    if (!profile && seen.pelvis.features < body::fewest_features) return "the hips show too few details to follow";
    Curve edges;
    for (const auto& at : seen.chest.pictures) edges.push_back(at.shift_px);
    if (!spread_of(edges)) return "the outline of the body beside the chest was not found";
    return {};
}

struct Together {
    double share = 0;        ///< of the chest's turn that the pelvis shows too
    double correlation = 0;  ///< -1..1
};

/// Absent where they are not mostly seen together, or the chest stays still.
std::optional<Together> together(const Curve& chest, const Curve& pelvis, double least_share = mostly) {
    std::vector<std::pair<double, double>> both;
    double chest_mean = 0, pelvis_mean = 0;
    for (std::size_t i = 0; i < chest.size() && i < pelvis.size(); ++i) {
        if (!chest[i] || !pelvis[i]) continue;
        both.emplace_back(*chest[i], *pelvis[i]);
        chest_mean += *chest[i];
        pelvis_mean += *pelvis[i];
    }
    const auto count = static_cast<double>(both.size());
    if (both.size() < fewest_pictures || count < least_share * static_cast<double>(chest.size())) return std::nullopt;
    double chest_squares = 0, pelvis_squares = 0, products = 0;
    for (const auto& [c, p] : both) {
        const double from_chest = c - chest_mean / count, from_pelvis = p - pelvis_mean / count;
        chest_squares += from_chest * from_chest;
        pelvis_squares += from_pelvis * from_pelvis;
        products += from_chest * from_pelvis;
    }
    if (std::sqrt(chest_squares / count) < trunk_turns_deg || pelvis_squares <= 0) return std::nullopt;
    return Together{products / chest_squares, products / std::sqrt(chest_squares * pelvis_squares)};
}

/// How far the pelvis turns if it is that which moves its nearer hip across the picture, from anywhere.
Curve turns_by_hip(const Curve& near_hip) {
    Curve out;
    for (const auto& at : near_hip)
        out.push_back(at ? std::optional{-*at / hip_beside_middle * degrees} : std::nullopt);
    return out;
}

/// In profile an arm that hangs before the hips swings with the chest and hides whether they do too; then the place of
/// the nearer hip joint, as the network has it, is the only sign left.
bool hidden_hips_go_along(const Curve& chest, const Curve& pelvis, const Curve& near_hip) {
    const auto hidden = together(chest, pelvis, hidden_mostly),
               hip = together(body::steadied(chest), body::steadied(turns_by_hip(near_hip)));
    return hidden && hidden->share >= shared_by_an_arm && hidden->correlation > goes_along_in_profile && hip &&
           hip->share > shared_by_a_hip && hip->correlation > goes_along;
}

/// In profile the near arm hides most of the hips, so that what is followed there may wander with the arm: only a
/// pelvis that goes along with the chest counts as turning.
bool trunk_turns(const Curve& chest, const Curve& pelvis, bool profile) {
    const auto hips = spread_of(pelvis);
    if (!profile && hips && hips->rms > trunk_turns_deg) return true;
    const auto both = together(chest, pelvis);
    return both && both->share > shared_by_a_turn && (!profile || both->share < shared_by_an_arm) &&
           both->correlation > (profile ? goes_along_in_profile : goes_along);
}

Measured absolute_of(const TwistEvidence& seen) {
    if (!seen.facing_deg) return {std::nullopt, "it is not known which way the body faces"};
    double sum = 0;
    int count = 0;
    for (const auto& separation : seen.shoulder_separation) {
        if (!separation) continue;
        const auto twist = profile_twist(*separation, *seen.facing_deg);
        if (!twist) return {std::nullopt, "only a side view shows it; here only its change is known"};
        sum += *twist;
        ++count;
    }
    if (count == 0) return {std::nullopt, "the body is followed in too few pictures"};
    return {sum / count, ""};
}

/// RMS of the difference between both ways to tell the change, each from its own mean.
std::optional<Measured> shoulders_differ(const TwistEvidence& seen, const Curve& change) {
    Curve difference;
    for (std::size_t i = 0; i < change.size() && i < seen.shoulder_separation.size(); ++i) {
        if (!profile_twist(0, *seen.facing_deg)) return std::nullopt;
        const auto& separation = seen.shoulder_separation[i];
        const bool both = change[i] && separation;
        difference.push_back(both ? std::optional{*change[i] - *profile_twist(*separation, *seen.facing_deg)}
                                  : std::nullopt);
    }
    const auto spread = spread_of(body::steadied(difference));
    if (!spread) return std::nullopt;
    return Measured{spread->rms, ""};
}

TwistFound without_change(Measured absolute, const std::string& reason) {
    return {{std::move(absolute), {std::nullopt, reason}, {std::nullopt, reason}}, {}};
}

}  // namespace

std::optional<double> profile_twist(double separation, double facing_deg) {
    if (!in_profile(facing_deg)) return std::nullopt;
    const double beyond_square = -std::asin(std::clamp(separation, -1.0, 1.0)) * degrees;
    return facing_deg > 0 ? beyond_square : -beyond_square;
}

TwistFound twist_of(const TwistEvidence& seen) {
    const Measured absolute = absolute_of(seen);
    const bool profile = seen.facing_deg && in_profile(*seen.facing_deg);
    if (const std::string reason = unfit(seen, profile); !reason.empty()) return without_change(absolute, reason);
    const Curve chest = turns_of(seen.chest), pelvis = turns_of(seen.pelvis);
    if (!profile && !spread_of(pelvis)) return without_change(absolute, "the hips could not be followed");
    if (trunk_turns(chest, pelvis, profile)) return without_change(absolute, "the whole trunk turns");
    if (profile && hidden_hips_go_along(chest, pelvis, seen.near_hip))
        return without_change(absolute, "the near arm hides the hips, which seem to turn with the chest");
    Curve change = body::steadied(profile ? chest : difference(chest, pelvis));
    const auto spread = spread_of(change);
    if (!spread) return without_change(absolute, "the chest could not be followed");
    TwistFound out{{absolute, {spread->range, ""}, {spread->rms, ""}}, std::move(change)};
    out.twist.shoulders_differ = shoulders_differ(seen, out.change_deg);
    if (spread->rms * std::numbers::sqrt2 < least_amplitude_deg) {
        const Measured none{std::nullopt, "it stays under 1 degree to either side, which is less than can be measured"};
        out.twist.range = out.twist.rms = none;
    }
    return out;
}

}  // namespace quarterturn::posing
