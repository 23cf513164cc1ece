#include "app/outline_finder.hpp"

#include <array>
#include <cmath>

#include "app/joints.hpp"
#include "body/landmarks.hpp"
#include "body/model_files.hpp"
#include "body/person_detector.hpp"
#include "media/exact_reader.hpp"

namespace quarterturn::app {

struct OutlineFinder::Networks {
    body::PersonDetector detector;
    body::LandmarkNetwork landmarks;
};

struct OutlineFinder::Film {
    std::filesystem::path file;
    media::ExactReader reader;
};

namespace {

using body::Point;

struct Grid {
    std::span<const float> mask;
    int side;
    [[nodiscard]] float value(int column, int row) const {
        return mask[static_cast<std::size_t>(row) * static_cast<std::size_t>(side) + static_cast<std::size_t>(column)];
    }
    // A value stands for the middle of its cell.
    [[nodiscard]] Point place(int column, int row) const { return {(column + 0.5) / side, (row + 0.5) / side}; }
};

std::vector<std::pair<Point, Point>> crossings(const Grid& grid, int column, int row) {
    const std::array<std::pair<int, int>, 4> corners{
        {{column, row}, {column + 1, row}, {column + 1, row + 1}, {column, row + 1}}};
    std::array<Point, 4> found;
    std::size_t count = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        const auto [ax, ay] = corners[i];
        const auto [bx, by] = corners[(i + 1) % 4];
        const double a = static_cast<double>(grid.value(ax, ay)), b = static_cast<double>(grid.value(bx, by));
        if ((a > 0) == (b > 0)) continue;
        const double share = a / (a - b);
        const Point p = grid.place(ax, ay), q = grid.place(bx, by);
        found[count++] = {p.x + share * (q.x - p.x), p.y + share * (q.y - p.y)};
    }
    std::vector<std::pair<Point, Point>> pieces;
    for (std::size_t i = 0; i + 1 < count; i += 2) pieces.emplace_back(found[i], found[i + 1]);
    return pieces;
}

// The person whose middle is nearest to the measured hips; the surest one where nothing was measured.
body::Region region_of(const std::vector<body::Person>& people, const OpenClip& clip, std::int64_t pts,
                       const body::PictureView& view) {
    const auto joints = joints_at(clip, pts);
    const auto* left = find_joint(joints, "left_hip");
    const auto* right = find_joint(joints, "right_hip");
    if (left == nullptr || right == nullptr) return people.front().region;
    const Point hips{(left->spot.x + right->spot.x) / 2 * view.width(),
                     (left->spot.y + right->spot.y) / 2 * view.height()};
    const auto distance = [&](const body::Person& person) {
        return std::hypot(person.region.centre.x - hips.x, person.region.centre.y - hips.y);
    };
    const body::Person* nearest = &people.front();
    for (const body::Person& person : people)
        if (distance(person) < distance(*nearest)) nearest = &person;
    return nearest->region;
}

}  // namespace

std::vector<std::pair<Spot, Spot>> mask_outline(std::span<const float> mask, int side, const body::Region& region,
                                                double width, double height) {
    std::vector<std::pair<Spot, Spot>> pieces;
    if (side < 2 || mask.size() < static_cast<std::size_t>(side) * static_cast<std::size_t>(side)) return pieces;
    const Grid grid{mask, side};
    const auto spot = [&](Point inside) {
        const Point at = region.to_picture(inside);
        return Spot{at.x / width, at.y / height};
    };
    for (int row = 0; row + 1 < side; ++row)
        for (int column = 0; column + 1 < side; ++column)
            for (const auto& [a, b] : crossings(grid, column, row)) pieces.emplace_back(spot(a), spot(b));
    return pieces;
}

OutlineFinder::OutlineFinder() = default;
OutlineFinder::~OutlineFinder() = default;

Result<Outline> OutlineFinder::find(const OpenClip& clip, std::int64_t pts) {
    if (!networks_) {
        auto models = body::load_models(body::ModelSize::full);
        if (!models) return models.error();
        auto detector = body::PersonDetector::create(models->detector);
        if (!detector) return detector.error();
        auto landmarks = body::LandmarkNetwork::create(models->landmarks);
        if (!landmarks) return landmarks.error();
        networks_ = std::make_unique<Networks>(Networks{std::move(*detector), std::move(*landmarks)});
    }
    if (!film_ || film_->file != clip.file) {
        auto reader = media::ExactReader::open(clip.file, {.threads = 1, .cache_mib = 32}, *clip.index);
        if (!reader) return reader.error();
        film_ = std::make_unique<Film>(Film{clip.file, std::move(*reader)});
    }
    const auto picture = film_->reader.frame_at(pts);
    if (!picture) return picture.error();
    const body::PictureView view(*picture, clip.info);
    const auto people = networks_->detector.find(view);
    if (!people) return people.error();
    const Error nobody{ErrorCode::not_found, "Nobody was found in this picture."};
    if (people->empty()) return nobody;
    // The detector's square is rough; the one that the landmarks place fits the body.
    body::Region region = region_of(*people, clip, pts, view);
    auto reading = networks_->landmarks.read(view, region);
    if (!reading) return reading.error();
    if (reading->next) region = *reading->next;
    reading = networks_->landmarks.read(view, region, true);
    if (!reading) return reading.error();
    if (reading->confidence < 0.5F) return nobody;
    return Outline{pts, mask_outline(reading->mask, body::mask_side, region, view.width(), view.height()), {}};
}

}  // namespace quarterturn::app
