#include "body/join_parts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "body/athlete_choice.hpp"

namespace quarterturn::body {
namespace {

using Offsets = std::array<Point, landmark_count>;

// Fewer pictures in common say too little about a constant this small.
constexpr std::size_t fewest_common = 3;
// After the region moves the offset fades over this many pictures.
constexpr int fade_pictures = 5;
constexpr double same_person = 0.35;
// Shares of the region's side, which is about 1.3 body heights. A region's constant is 0.02 in sight and may be 0.05
// for what is hidden; more is a joint that one of the two has misread (hands behind the head), which says nothing about
// the pictures to come.
constexpr double largest_constant = 0.05;
// Once a joint has moved so far it is another posture, with constants of its own. Sway and twist move none so far.
constexpr double other_posture = 0.08;

const LandmarkFrame* frame_at(std::span<const LandmarkFrame> frames, std::int64_t pts) {
    const auto found = std::lower_bound(frames.begin(), frames.end(), pts,
                                        [](const LandmarkFrame& frame, std::int64_t at) { return frame.pts < at; });
    return found != frames.end() && found->pts == pts ? &*found : nullptr;
}

bool comparable(const LandmarkFrame& a, const LandmarkFrame& b) {
    return a.body && b.body && a.held && b.held && a.region && b.region &&
           unlikeness(*a.region, *b.region) < same_person;
}

struct Seam {
    Offsets offsets{};  ///< earlier minus later
    Offsets later{};    ///< where the later part saw the joints
    double side = 0;
};

/// Means over the pictures both parts read with held regions.
std::optional<Seam> seam_between(std::span<const LandmarkFrame> earlier, const PartFrames& later) {
    Seam seam;
    std::size_t count = 0;
    for (std::size_t i = 0; i < later.warm_up; ++i) {
        const LandmarkFrame& b = later.frames[i];
        const LandmarkFrame* a = frame_at(earlier, b.pts);
        if (a == nullptr || !comparable(*a, b)) continue;
        ++count;
        seam.side = b.region->side;
        for (std::size_t j = 0; j < landmark_count; ++j) {
            const Landmark &from = a->body->landmarks[j], &to = b.body->landmarks[j];
            seam.offsets[j].x += static_cast<double>(from.x) - static_cast<double>(to.x);
            seam.offsets[j].y += static_cast<double>(from.y) - static_cast<double>(to.y);
            seam.later[j].x += static_cast<double>(to.x);
            seam.later[j].y += static_cast<double>(to.y);
        }
    }
    if (count < fewest_common) return std::nullopt;
    for (std::size_t j = 0; j < landmark_count; ++j) {
        for (Point* sum : {&seam.offsets[j], &seam.later[j]}) {
            sum->x /= static_cast<double>(count);
            sum->y /= static_cast<double>(count);
        }
        if (std::hypot(seam.offsets[j].x, seam.offsets[j].y) > largest_constant * seam.side) seam.offsets[j] = {};
    }
    return seam;
}

bool changed_posture(const Body& body, const Seam& seam) {
    for (std::size_t j = 0; j < landmark_count; ++j) {
        const double x = static_cast<double>(body.landmarks[j].x) - seam.later[j].x;
        const double y = static_cast<double>(body.landmarks[j].y) - seam.later[j].y;
        if (std::hypot(x, y) > other_posture * seam.side) return true;
    }
    return false;
}

void shift(Body& body, const Offsets& offsets, double share) {
    for (std::size_t j = 0; j < landmark_count; ++j) {
        body.landmarks[j].x += static_cast<float>(offsets[j].x * share);
        body.landmarks[j].y += static_cast<float>(offsets[j].y * share);
    }
}

/// From the hand-over on: in full while the posture is held, fading once she or the region moves.
void carry_over(std::vector<LandmarkFrame>& frames, std::size_t from, const Seam& seam) {
    int faded = 0;
    for (std::size_t i = from; i < frames.size() && faded < fade_pictures && frames[i].body; ++i) {
        if (faded > 0 || !frames[i].held || changed_posture(*frames[i].body, seam)) ++faded;
        shift(*frames[i].body, seam.offsets, 1.0 - static_cast<double>(faded) / fade_pictures);
    }
}

}  // namespace

std::vector<LandmarkFrame> join_parts(std::span<const PartFrames> parts) {
    std::vector<LandmarkFrame> joined;
    for (const PartFrames& part : parts) {
        const auto seam = seam_between(joined, part);
        const std::size_t from = joined.size();
        for (std::size_t i = std::min(part.warm_up, part.frames.size()); i < part.frames.size(); ++i) {
            if (joined.empty() || part.frames[i].pts > joined.back().pts) joined.push_back(part.frames[i]);
        }
        if (seam) carry_over(joined, from, *seam);
    }
    for (LandmarkFrame& frame : joined) {
        if (frame.body) round_for_keeping(*frame.body);
    }
    return joined;
}

}  // namespace quarterturn::body
