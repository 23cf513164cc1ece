#include "body/network_shapes.hpp"

#include <cstring>

namespace quarterturn::body {
namespace {

using Shape = std::vector<int>;

const Shape& shape_of(const TfliteModel& graph, int tensor) {
    return graph.tensors[static_cast<std::size_t>(tensor)].shape;
}

/// Output extent of a sliding window; 0 when the window does not fit.
int slid(int extent, int window, int stride, int dilation, bool same) {
    if (same) return (extent + stride - 1) / stride;
    const int reach = (window - 1) * dilation + 1;
    return extent < reach ? 0 : (extent - reach) / stride + 1;
}

bool window_fits(const Operator& op, const Shape& in, const Shape& out, int window_y, int window_x) {
    // The reach is bounded so that its product with the dilation stays in range.
    if (window_x < 1 || window_y < 1 || window_x > 4096 || window_y > 4096) return false;
    return out[0] == in[0] && out[1] == slid(in[1], window_y, op.stride_y, op.dilation_y, op.same_padding) &&
           out[2] == slid(in[2], window_x, op.stride_x, op.dilation_x, op.same_padding);
}

bool convolution_fits(const TfliteModel& graph, const Operator& op, const Shape& in, const Shape& out) {
    if (op.inputs.size() != 3 || op.inputs[1] < 0 || op.inputs[2] < 0) return false;
    const Shape& filter = shape_of(graph, op.inputs[1]);
    const Shape& bias = shape_of(graph, op.inputs[2]);
    if (in.size() != 4 || out.size() != 4 || filter.size() != 4 || bias.size() != 1 || bias[0] != out[3]) return false;
    if (!window_fits(op, in, out, filter[1], filter[2])) return false;
    if (op.kind == OperatorKind::convolution) return filter[0] == out[3] && filter[3] == in[3];
    return filter[0] == 1 && filter[3] == out[3] && in[3] * op.depth_multiplier == out[3];
}

bool pool_fits(const Operator& op, const Shape& in, const Shape& out) {
    return in.size() == 4 && out.size() == 4 && in[3] == out[3] &&
           window_fits(op, in, out, op.pool_height, op.pool_width);
}

bool pad_fits(const TfliteModel& graph, const Operator& op, const Shape& in, const Shape& out) {
    const auto border = padding_of(graph, op);
    if (border.size() != in.size() || out.size() != in.size()) return false;
    for (std::size_t i = 0; i < in.size(); ++i) {
        if (out[i] != in[i] + border[i].first + border[i].second) return false;
    }
    return true;
}

bool concatenation_fits(const TfliteModel& graph, const Operator& op, const Shape& out) {
    const auto axis = static_cast<std::size_t>(op.axis);
    if (op.axis < 0 || axis >= out.size()) return false;
    int total = 0;
    for (const int input : op.inputs) {
        if (input < 0 || shape_of(graph, input).size() != out.size()) return false;
        Shape piece = shape_of(graph, input);
        total += piece[axis];
        piece[axis] = out[axis];
        if (piece != out) return false;
    }
    return total == out[axis];
}

bool depth_to_space_fits(const Operator& op, const Shape& in, const Shape& out) {
    const int block = op.block_size;
    return in.size() == 4 && out.size() == 4 && out[0] == in[0] && out[1] == in[1] * block && out[2] == in[2] * block &&
           out[3] * block * block == in[3];
}

}  // namespace

std::vector<std::pair<int, int>> padding_of(const TfliteModel& graph, const Operator& op) {
    if (op.inputs.size() != 2 || op.inputs[1] < 0) return {};
    const Tensor& border = graph.tensors[static_cast<std::size_t>(op.inputs[1])];
    if (border.type != ElementType::int32 || border.shape.size() != 2 || border.shape[1] != 2) return {};
    if (border.data.size() != border.elements() * sizeof(std::int32_t)) return {};
    std::vector<std::int32_t> values(border.elements());
    std::memcpy(values.data(), border.data.data(), border.data.size());
    std::vector<std::pair<int, int>> pairs;
    for (std::size_t i = 0; i < values.size(); i += 2) {
        if (values[i] < 0 || values[i + 1] < 0 || values[i] > 4096 || values[i + 1] > 4096) return {};
        pairs.emplace_back(values[i], values[i + 1]);
    }
    return pairs;
}

bool shapes_fit(const TfliteModel& graph, const Operator& op) {
    if (op.inputs[0] < 0) return false;
    const Shape& in = shape_of(graph, op.inputs[0]);
    const Shape& out = shape_of(graph, op.outputs[0]);
    switch (op.kind) {
        case OperatorKind::convolution:
        case OperatorKind::depthwise_convolution:
            return convolution_fits(graph, op, in, out);
        case OperatorKind::max_pool:
            return pool_fits(op, in, out);
        case OperatorKind::add:
            return op.inputs.size() == 2 && op.inputs[1] >= 0 && in == out && shape_of(graph, op.inputs[1]) == out;
        case OperatorKind::logistic:
            return in == out;
        case OperatorKind::reshape:
            return graph.tensors[static_cast<std::size_t>(op.inputs[0])].elements() ==
                   graph.tensors[static_cast<std::size_t>(op.outputs[0])].elements();
        case OperatorKind::resize_bilinear:
            return in.size() == 4 && out.size() == 4 && in[0] == out[0] && in[3] == out[3];
        case OperatorKind::pad:
            return pad_fits(graph, op, in, out);
        case OperatorKind::depth_to_space:
            return depth_to_space_fits(op, in, out);
        case OperatorKind::concatenation:
            return concatenation_fits(graph, op, out);
        case OperatorKind::dequantize:
        case OperatorKind::densify:
            return true;
    }
    return false;
}

}  // namespace quarterturn::body
