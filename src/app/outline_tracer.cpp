#include "app/outline_tracer.hpp"

#include <array>
#include <cmath>

#include "app/body_outline.hpp"
#include "body/landmarks.hpp"
#include "body/model_files.hpp"
#include "body/tracker.hpp"

namespace quarterturn::app {
namespace {

using body::Point;
constexpr int side = body::mask_side;
constexpr std::size_t smallest_island = 40;  // mask pixels; a hand covers more

std::size_t at(int x, int y) {
    return static_cast<std::size_t>(y) * side + static_cast<std::size_t>(x);
}

/// Pixels of the person without small islands.
std::vector<std::uint8_t> body_pixels(std::span<const float> mask) {
    std::vector<std::uint8_t> kept(mask.size(), 0), seen(mask.size(), 0);
    std::vector<std::size_t> island, open;
    for (std::size_t start = 0; start < mask.size(); ++start) {
        if (seen[start] != 0 || mask[start] <= 0) continue;
        island.clear();
        open = {start};
        seen[start] = 1;
        while (!open.empty()) {
            const std::size_t here = open.back();
            open.pop_back();
            island.push_back(here);
            const int x = static_cast<int>(here % side), y = static_cast<int>(here / side);
            for (const auto& [dx, dy] : {std::pair{-1, 0}, std::pair{1, 0}, std::pair{0, -1}, std::pair{0, 1}}) {
                if (x + dx < 0 || y + dy < 0 || x + dx >= side || y + dy >= side) continue;
                const std::size_t next = at(x + dx, y + dy);
                if (seen[next] != 0 || mask[next] <= 0) continue;
                seen[next] = 1;
                open.push_back(next);
            }
        }
        if (island.size() >= smallest_island)
            for (const std::size_t pixel : island) kept[pixel] = 1;
    }
    return kept;
}

/// A square around a body that stands there: from the hips to the crown is half of its height, and a little more.
std::optional<body::Region> region_of(const body::CourseFrame& frame, bool mirrored, double width) {
    const auto hips = body::middle(frame[body::Joint::left_hip], frame[body::Joint::right_hip]);
    const double x = mirrored ? width - hips.x : hips.x;
    return body::region_around({x, hips.y}, {x, hips.y - 0.58 * frame.height_px});
}

}  // namespace

std::vector<std::pair<Point, Point>> mask_outline(std::span<const float> mask, const body::Region& region) {
    std::vector<std::pair<Point, Point>> lines;
    if (mask.size() != static_cast<std::size_t>(side) * side) return lines;
    const auto kept = body_pixels(mask);
    const auto value = [&](int x, int y) {
        const std::size_t i = at(x, y);
        return mask[i] > 0 && kept[i] == 0 ? -1.0 : static_cast<double>(mask[i]);
    };
    for (int y = 0; y + 1 < side; ++y)
        for (int x = 0; x + 1 < side; ++x) {
            const std::array<std::pair<int, int>, 4> corners{{{x, y}, {x + 1, y}, {x + 1, y + 1}, {x, y + 1}}};
            std::array<Point, 4> crossings;
            std::size_t count = 0;
            for (std::size_t k = 0; k < 4; ++k) {
                const auto [ax, ay] = corners[k];
                const auto [bx, by] = corners[(k + 1) % 4];
                const double a = value(ax, ay), b = value(bx, by);
                if ((a > 0) == (b > 0)) continue;
                const double t = a / (a - b);
                crossings[count++] =
                    region.to_picture({(ax + 0.5 + t * (bx - ax)) / side, (ay + 0.5 + t * (by - ay)) / side});
            }
            for (std::size_t k = 0; k + 1 < count; k += 2) lines.emplace_back(crossings[k], crossings[k + 1]);
        }
    return lines;
}

bool OutlineTracer::ready(const std::filesystem::path& film) {
    if (!tried_) {
        tried_ = true;
        if (const auto models = body::load_models(body::ModelSize::full))
            if (auto made = body::make_body_reader(*models)) body_ = std::move(*made);
    }
    if (!body_) return false;
    if (reader_ && film_ == film) return true;
    reader_.reset();
    auto reader = media::ExactReader::open(film, {.threads = 1, .cache_mib = 32});
    if (!reader) return false;
    reader_.emplace(std::move(*reader));
    film_ = film;
    return true;
}

std::vector<std::pair<Point, Point>> OutlineTracer::trace(const share::ComparedFilm& film, std::int64_t pts) {
    if (!film.take.course || !ready(film.film)) return {};
    const posing::ClipFacts& clip = film.take.analysis->clip;
    const auto frame = body_at(*film.take.course, compare::seconds_of(clip, pts));
    const auto rank = reader_->index().rank_at(pts);
    if (!frame || !rank) return {};
    const auto picture = reader_->frame_of_rank(*rank);
    if (!picture) return {};
    media::ClipInfo info = reader_->info();
    if (film.rotation_deg) info.rotation_deg = *film.rotation_deg;
    const body::PictureView view(*picture, info);
    auto region = region_of(*frame, clip.mirrored, view.width());
    if (!region) return {};
    // Once to find the square that the landmarks ask for, once for the mask in it.
    if (const auto first = body_->read(view, *region, false); first && first->next) region = first->next;
    const auto reading = body_->read(view, *region, true);
    if (!reading || reading->confidence < 0.5F) return {};
    auto lines = mask_outline(reading->mask, *region);
    if (clip.mirrored)
        for (auto& [a, b] : lines) a.x = view.width() - a.x, b.x = view.width() - b.x;
    return lines;
}

}  // namespace quarterturn::app
