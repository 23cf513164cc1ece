#include "body/mask_outline.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace quarterturn::body {
namespace {

constexpr int side = mask_side;
constexpr std::size_t smallest_island = 40;  // mask pixels

std::size_t at(int x, int y) {
    return static_cast<std::size_t>(y) * side + static_cast<std::size_t>(x);
}

/// Pixels of the person that hang together with `start`; marks them as seen.
std::vector<std::size_t> island_at(std::size_t start, std::span<const float> mask, std::vector<std::uint8_t>& seen) {
    std::vector<std::size_t> island, open{start};
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
    return island;
}

std::vector<float> without_islands(std::span<const float> mask) {
    std::vector<float> kept(mask.begin(), mask.end());
    std::vector<std::uint8_t> seen(mask.size(), 0);
    for (std::size_t start = 0; start < mask.size(); ++start) {
        if (seen[start] != 0 || mask[start] <= 0) continue;
        const auto island = island_at(start, mask, seen);
        if (island.size() >= smallest_island) continue;
        for (const std::size_t pixel : island) kept[pixel] = -1;
    }
    return kept;
}

/// Pieces between the four values around a corner of mask pixels.
void add_pieces(const std::vector<float>& mask, int x, int y, const Region& region, OutlinePieces& out) {
    const std::array<std::pair<int, int>, 4> corners{{{x, y}, {x + 1, y}, {x + 1, y + 1}, {x, y + 1}}};
    std::array<Point, 4> crossings;
    std::size_t count = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        const auto [ax, ay] = corners[i];
        const auto [bx, by] = corners[(i + 1) % 4];
        const double a = static_cast<double>(mask[at(ax, ay)]), b = static_cast<double>(mask[at(bx, by)]);
        if ((a > 0) == (b > 0)) continue;
        const double share = a / (a - b);
        crossings[count++] =
            region.to_picture({(ax + 0.5 + share * (bx - ax)) / side, (ay + 0.5 + share * (by - ay)) / side});
    }
    for (std::size_t i = 0; i + 1 < count; i += 2) out.emplace_back(crossings[i], crossings[i + 1]);
}

/// People are listed surest first.
const Person& nearest_to(const std::vector<Person>& people, Point hips) {
    const auto distance = [&](const Person& person) {
        return std::hypot(person.region.centre.x - hips.x, person.region.centre.y - hips.y);
    };
    return *std::min_element(people.begin(), people.end(),
                             [&](const Person& a, const Person& b) { return distance(a) < distance(b); });
}

}  // namespace

OutlinePieces mask_outline(std::span<const float> mask, const Region& region) {
    OutlinePieces out;
    if (mask.size() != static_cast<std::size_t>(side) * side) return out;
    const std::vector<float> kept = without_islands(mask);
    for (int y = 0; y + 1 < side; ++y)
        for (int x = 0; x + 1 < side; ++x) add_pieces(kept, x, y, region, out);
    return out;
}

Result<OutlinePieces> outline_in(BodyReader& reader, const PictureView& picture, std::optional<Point> hips) {
    constexpr float sure_enough = 0.5F;
    const auto people = reader.find(picture);
    if (!people) return people.error();
    if (people->empty()) return OutlinePieces{};
    // The detector's square is rough; the one that the landmarks ask for fits the body.
    Region region = (hips ? nearest_to(*people, *hips) : people->front()).region;
    const auto first = reader.read(picture, region, false);
    if (!first) return first.error();
    if (first->next) region = *first->next;
    const auto second = reader.read(picture, region, true);
    if (!second) return second.error();
    if (second->confidence < sure_enough) return OutlinePieces{};
    return mask_outline(second->mask, region);
}

}  // namespace quarterturn::body
