#include "body/film_facts.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace quarterturn::body {
namespace {

/// From the first picture to the end of the last one, whose own length is taken as the median one.
double film_length_s(std::span<const std::int64_t> pts, const media::ClipInfo& info) {
    if (pts.size() < 2) return info.average_rate > 0 ? 1 / info.average_rate : 0;
    std::vector<std::int64_t> lengths;
    for (std::size_t i = 1; i < pts.size(); ++i) lengths.push_back(pts[i] - pts[i - 1]);
    const auto middle = lengths.begin() + static_cast<std::ptrdiff_t>(lengths.size() / 2);
    std::nth_element(lengths.begin(), middle, lengths.end());
    return seconds_between(pts.front(), pts.back() + *middle, info.time_base);
}

}  // namespace

ClipFacts film_facts(const std::filesystem::path& path, const media::ClipInfo& info, std::span<const std::int64_t> pts,
                     double time_scale, bool mirrored) {
    ClipFacts facts;
    facts.file = to_utf8(path.filename().string());
    facts.duration_s = film_length_s(pts, info) * time_scale;
    facts.frames = static_cast<std::int64_t>(pts.size());
    facts.width = info.shown_width();
    facts.height = info.shown_height();
    facts.rotation_deg = info.rotation_deg;
    facts.time_base = info.time_base;
    facts.first_pts = pts.front();
    facts.time_scale = time_scale;
    facts.mirrored = mirrored;
    return facts;
}

}  // namespace quarterturn::body
