#include "body/landmarks.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::body {
namespace {

constexpr int input_side = 256;
constexpr std::size_t points = 39;  // the body's 33, then two that carry the next region and four unused ones
constexpr std::size_t numbers_per_point = 5;
constexpr int heat_side = 64;
constexpr int refine_reach = 3;
constexpr float refine_limit = 0.5F;
constexpr std::size_t middle_point = 33;
constexpr std::size_t reach_point = 34;

float probability(float logit) {
    return 1.0F / (1.0F + std::exp(-std::clamp(logit, -80.0F, 80.0F)));
}

/// A point's place in the region (0..1), moved to the middle of the heat map's peak around it where there is one.
Point refined(Point at, std::span<const float> heat, std::size_t point) {
    const int column = static_cast<int>(std::floor(at.x * heat_side));
    const int row = static_cast<int>(std::floor(at.y * heat_side));
    if (column < 0 || row < 0 || column >= heat_side || row >= heat_side) return at;
    float best = 0;
    double sum = 0;
    Point weighted;
    for (int y = std::max(0, row - refine_reach); y <= std::min(heat_side - 1, row + refine_reach); ++y) {
        for (int x = std::max(0, column - refine_reach); x <= std::min(heat_side - 1, column + refine_reach); ++x) {
            const float weight = probability(heat[static_cast<std::size_t>(y * heat_side + x) * points + point]);
            best = std::max(best, weight);
            sum += static_cast<double>(weight);
            weighted.x += x * static_cast<double>(weight);
            weighted.y += y * static_cast<double>(weight);
        }
    }
    if (best < refine_limit || sum <= 0) return at;
    return {weighted.x / sum / heat_side, weighted.y / sum / heat_side};
}

/// A point in pixels of the picture.
Point placed(std::span<const float> numbers, std::span<const float> heat, std::size_t point, const Region& region) {
    const Point raw{static_cast<double>(numbers[point * numbers_per_point]) / input_side,
                    static_cast<double>(numbers[point * numbers_per_point + 1]) / input_side};
    return region.to_picture(refined(raw, heat, point));
}

Body body_from(std::span<const float> numbers, std::span<const float> heat, std::span<const float> world,
               const Region& region) {
    Body body;
    const auto c = static_cast<float>(std::cos(region.angle_rad));
    const auto s = static_cast<float>(std::sin(region.angle_rad));
    for (std::size_t i = 0; i < landmark_count; ++i) {
        const Point at = placed(numbers, heat, i, region);
        body.landmarks[i] = {static_cast<float>(at.x), static_cast<float>(at.y),
                             probability(numbers[i * numbers_per_point + 3]),
                             probability(numbers[i * numbers_per_point + 4])};
        const float x = world[3 * i];
        const float y = world[3 * i + 1];
        body.world[i] = {x * c - y * s, x * s + y * c, world[3 * i + 2]};
    }
    return body;
}

bool all_finite(std::span<const float> numbers) {
    return std::all_of(numbers.begin(), numbers.end(), [](float value) { return std::isfinite(value); });
}

}  // namespace

LandmarkNetwork::LandmarkNetwork(std::shared_ptr<const NetworkModel> model, std::vector<int> outputs, int mask_output,
                                 Network network)
    : model_(std::move(model)),
      outputs_(std::move(outputs)),
      mask_output_(mask_output),
      without_mask_(std::move(network)) {}

Result<LandmarkNetwork> LandmarkNetwork::create(std::shared_ptr<const NetworkModel> model) {
    const auto numbers = model->output_of_size(points * numbers_per_point);
    const auto confidence = model->output_of_size(1);
    const auto heat = model->output_of_size(static_cast<std::size_t>(heat_side * heat_side) * points);
    const auto world = model->output_of_size(points * 3);
    const auto mask = model->output_of_size(static_cast<std::size_t>(mask_side * mask_side));
    const Tensor& input = model->graph().tensors[static_cast<std::size_t>(model->graph().inputs[0])];
    const bool known = numbers && confidence && heat && world && mask;
    if (!known || input.shape != std::vector<int>{1, input_side, input_side, 3}) {
        return Error{ErrorCode::bad_input,
                     "The body-landmark model file holds another network; run third_party/setup.sh again."};
    }
    std::vector<int> outputs{*numbers, *confidence, *heat, *world};
    auto network = Network::build(model, outputs);
    if (!network) return network.error();
    return LandmarkNetwork{std::move(model), std::move(outputs), *mask, std::move(network).value()};
}

Result<Network*> LandmarkNetwork::network_for(bool with_mask) {
    if (!with_mask) return &without_mask_;
    if (!with_mask_) {
        std::vector<int> outputs = outputs_;
        outputs.push_back(mask_output_);
        auto network = Network::build(model_, std::move(outputs));
        if (!network) return network.error();
        with_mask_ = std::move(network).value();
    }
    return &*with_mask_;
}

Result<Reading> LandmarkNetwork::read(const PictureView& picture, const Region& region, bool with_mask) {
    const auto chosen = network_for(with_mask);
    if (!chosen) return chosen.error();
    Network& network = **chosen;
    picture.crop(region, input_side, Border::repeat, 0.0F, 1.0F, network.input());
    if (auto status = network.run(); !status) return status.error();
    const auto numbers = network.output(0);
    const auto heat = network.output(2);
    Reading reading;
    // A damaged weight can make everything NaN: then nobody was seen, rather than a body nowhere.
    if (!all_finite(numbers) || !all_finite(network.output(1)) || !all_finite(network.output(3))) return reading;
    reading.body = body_from(numbers, heat, network.output(3), region);
    reading.confidence = network.output(1)[0];
    reading.next =
        region_around(placed(numbers, heat, middle_point, region), placed(numbers, heat, reach_point, region));
    if (with_mask) reading.mask = network.output(4);
    return reading;
}

}  // namespace quarterturn::body
