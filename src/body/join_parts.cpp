#include "body/join_parts.hpp"

#include <algorithm>
#include <array>
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

const LandmarkFrame* frame_at(std::span<const LandmarkFrame> frames, std::int64_t pts) {
    const auto found = std::lower_bound(frames.begin(), frames.end(), pts,
                                        [](const LandmarkFrame& frame, std::int64_t at) { return frame.pts < at; });
    return found != frames.end() && found->pts == pts ? &*found : nullptr;
}

bool comparable(const LandmarkFrame& a, const LandmarkFrame& b) {
    return a.body && b.body && a.held && b.held && a.region && b.region &&
           unlikeness(*a.region, *b.region) < same_person;
}

/// Earlier minus later, mean over the pictures both parts read with held regions.
std::optional<Offsets> offsets_between(std::span<const LandmarkFrame> earlier, const PartFrames& later) {
    Offsets sum{};
    std::size_t count = 0;
    for (std::size_t i = 0; i < later.warm_up; ++i) {
        const LandmarkFrame& b = later.frames[i];
        const LandmarkFrame* a = frame_at(earlier, b.pts);
        if (a == nullptr || !comparable(*a, b)) continue;
        ++count;
        for (std::size_t j = 0; j < landmark_count; ++j) {
            sum[j].x += static_cast<double>(a->body->landmarks[j].x) - static_cast<double>(b.body->landmarks[j].x);
            sum[j].y += static_cast<double>(a->body->landmarks[j].y) - static_cast<double>(b.body->landmarks[j].y);
        }
    }
    if (count < fewest_common) return std::nullopt;
    for (Point& offset : sum) {
        offset.x /= static_cast<double>(count);
        offset.y /= static_cast<double>(count);
    }
    return sum;
}

void shift(Body& body, const Offsets& offsets, double share) {
    for (std::size_t j = 0; j < landmark_count; ++j) {
        body.landmarks[j].x += static_cast<float>(offsets[j].x * share);
        body.landmarks[j].y += static_cast<float>(offsets[j].y * share);
    }
}

/// From the hand-over on: in full while the region is held, fading once it moves.
void carry_over(std::vector<LandmarkFrame>& frames, std::size_t from, const Offsets& offsets) {
    int faded = 0;
    for (std::size_t i = from; i < frames.size() && faded < fade_pictures && frames[i].body; ++i) {
        if (!frames[i].held || faded > 0) ++faded;
        shift(*frames[i].body, offsets, 1.0 - static_cast<double>(faded) / fade_pictures);
    }
}

}  // namespace

std::vector<LandmarkFrame> join_parts(std::span<const PartFrames> parts) {
    std::vector<LandmarkFrame> joined;
    for (const PartFrames& part : parts) {
        const auto offsets = offsets_between(joined, part);
        const std::size_t from = joined.size();
        for (std::size_t i = std::min(part.warm_up, part.frames.size()); i < part.frames.size(); ++i) {
            if (joined.empty() || part.frames[i].pts > joined.back().pts) joined.push_back(part.frames[i]);
        }
        if (offsets) carry_over(joined, from, *offsets);
    }
    for (LandmarkFrame& frame : joined) {
        if (frame.body) round_for_keeping(*frame.body);
    }
    return joined;
}

}  // namespace quarterturn::body
