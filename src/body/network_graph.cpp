#include "body/network_graph.hpp"

#include <fmt/format.h>

#include <utility>
#include <vector>

#include "body/network_shapes.hpp"

namespace quarterturn::body {
namespace {

/// Turns the operators a set of outputs needs into the library's own graph.
class Translator {
  public:
    Translator(const NetworkModel& model, std::span<const int> outputs)
        : model_(model), graph_(model.graph()), outputs_(outputs) {}

    [[nodiscard]] Status translate() {
        mark_needed();
        xnn_subgraph_t raw = nullptr;
        const auto external = static_cast<std::uint32_t>(graph_.tensors.size());
        if (xnn_create_subgraph(external, 0, &raw) != xnn_status_success) return failed("graph");
        subgraph_.reset(raw);
        if (auto status = define_tensors(); !status) return status;
        for (const Operator& op : graph_.operators) {
            if (model_.folded(op) || !needed_[static_cast<std::size_t>(op.outputs[0])]) continue;
            if (define(op) != xnn_status_success) return failed("operator");
        }
        return ok();
    }

    [[nodiscard]] SubgraphPtr take() { return std::move(subgraph_); }

  private:
    static Status failed(const char* what) {
        return Error{ErrorCode::bad_input, fmt::format("The inference library refuses a model {}.", what)};
    }

    void mark_needed() {
        needed_.assign(graph_.tensors.size(), false);
        for (const int output : outputs_) needed_[static_cast<std::size_t>(output)] = true;
        // The file's order is an order of computation, so one pass from the end finds everything.
        for (auto op = graph_.operators.rbegin(); op != graph_.operators.rend(); ++op) {
            if (model_.folded(*op) || !needed_[static_cast<std::size_t>(op->outputs[0])]) continue;
            for (const int input : op->inputs) {
                if (input >= 0) needed_[static_cast<std::size_t>(input)] = true;
            }
        }
    }

    [[nodiscard]] std::uint32_t flags_of(int tensor) const {
        std::uint32_t flags = 0;
        if (tensor == graph_.inputs[0]) flags |= XNN_VALUE_FLAG_EXTERNAL_INPUT;
        for (const int output : outputs_) {
            if (output == tensor) flags |= XNN_VALUE_FLAG_EXTERNAL_OUTPUT;
        }
        return flags;
    }

    [[nodiscard]] Status define_tensors() {
        for (std::size_t i = 0; i < graph_.tensors.size(); ++i) {
            const int tensor = static_cast<int>(i);
            const auto constant = model_.constant(tensor);
            const bool used = needed_[i] || tensor == graph_.inputs[0];
            // Integer constants are parameters of their operator (borders, shapes), not values in the graph.
            if (!used || (constant.empty() && !graph_.tensors[i].data.empty())) continue;
            std::vector<std::size_t> shape(graph_.tensors[i].shape.begin(), graph_.tensors[i].shape.end());
            std::uint32_t id = 0;
            const auto status = xnn_define_tensor_value(subgraph_.get(), xnn_datatype_fp32, shape.size(), shape.data(),
                                                        constant.empty() ? nullptr : constant.data(),
                                                        static_cast<std::uint32_t>(i), flags_of(tensor), &id);
            if (status != xnn_status_success) return failed("tensor");
        }
        return ok();
    }

    [[nodiscard]] const std::vector<int>& shape(int tensor) const {
        return graph_.tensors[static_cast<std::size_t>(tensor)].shape;
    }
    static std::uint32_t id(int tensor) { return static_cast<std::uint32_t>(tensor); }
    static std::uint32_t unsigned_of(int value) { return static_cast<std::uint32_t>(value); }
    static std::size_t size_of(int value) { return static_cast<std::size_t>(value); }

    [[nodiscard]] xnn_status define(const Operator& op) {
        const std::uint32_t in = id(op.inputs[0]);
        const std::uint32_t out = id(op.outputs[0]);
        switch (op.kind) {
            case OperatorKind::convolution:
                return convolution(op);
            case OperatorKind::depthwise_convolution:
                return depthwise(op);
            case OperatorKind::max_pool:
                return max_pool(op);
            case OperatorKind::pad:
                return pad(op);
            case OperatorKind::resize_bilinear:
                return resize(op);
            case OperatorKind::reshape:
                return reshape(op);
            case OperatorKind::add:
                return xnn_define_add2(subgraph_.get(), op.lowest, op.highest, in, id(op.inputs[1]), out, 0);
            case OperatorKind::logistic:
                return xnn_define_sigmoid(subgraph_.get(), in, out, 0);
            case OperatorKind::depth_to_space:
                return xnn_define_depth_to_space(subgraph_.get(), in, out, unsigned_of(op.block_size), 0);
            default:
                return xnn_status_unsupported_parameter;
        }
    }

    [[nodiscard]] xnn_status convolution(const Operator& op) {
        const auto& filter = shape(op.inputs[1]);
        return xnn_define_convolution_2d(subgraph_.get(), 0, 0, 0, 0, unsigned_of(filter[1]), unsigned_of(filter[2]),
                                         unsigned_of(op.stride_y), unsigned_of(op.stride_x), unsigned_of(op.dilation_y),
                                         unsigned_of(op.dilation_x), 1, size_of(filter[3]), size_of(filter[0]),
                                         op.lowest, op.highest, id(op.inputs[0]), id(op.inputs[1]), id(op.inputs[2]),
                                         id(op.outputs[0]), padding_flag(op));
    }

    [[nodiscard]] xnn_status depthwise(const Operator& op) {
        const auto& filter = shape(op.inputs[1]);
        return xnn_define_depthwise_convolution_2d(
            subgraph_.get(), 0, 0, 0, 0, unsigned_of(filter[1]), unsigned_of(filter[2]), unsigned_of(op.stride_y),
            unsigned_of(op.stride_x), unsigned_of(op.dilation_y), unsigned_of(op.dilation_x),
            unsigned_of(op.depth_multiplier), size_of(shape(op.inputs[0])[3]), op.lowest, op.highest, id(op.inputs[0]),
            id(op.inputs[1]), id(op.inputs[2]), id(op.outputs[0]), padding_flag(op));
    }

    [[nodiscard]] xnn_status max_pool(const Operator& op) {
        return xnn_define_max_pooling_2d(subgraph_.get(), 0, 0, 0, 0, unsigned_of(op.pool_height),
                                         unsigned_of(op.pool_width), unsigned_of(op.stride_y), unsigned_of(op.stride_x),
                                         1, 1, op.lowest, op.highest, id(op.inputs[0]), id(op.outputs[0]),
                                         padding_flag(op));
    }

    [[nodiscard]] xnn_status pad(const Operator& op) {
        std::vector<std::size_t> before;
        std::vector<std::size_t> after;
        for (const auto& [first, last] : padding_of(graph_, op)) {
            before.push_back(size_of(first));
            after.push_back(size_of(last));
        }
        return xnn_define_static_constant_pad(subgraph_.get(), before.data(), after.data(), 0.0F, id(op.inputs[0]),
                                              id(op.outputs[0]), 0);
    }

    [[nodiscard]] xnn_status resize(const Operator& op) {
        const auto& out = shape(op.outputs[0]);
        // The library's own convention is half-pixel centres; its flags name the two older ones.
        std::uint32_t flags = op.half_pixel_centres ? 0U : XNN_FLAG_TENSORFLOW_LEGACY_MODE;
        if (op.align_corners) flags = XNN_FLAG_ALIGN_CORNERS;
        return xnn_define_static_resize_bilinear_2d(subgraph_.get(), size_of(out[1]), size_of(out[2]), id(op.inputs[0]),
                                                    id(op.outputs[0]), flags);
    }

    [[nodiscard]] xnn_status reshape(const Operator& op) {
        const auto& out = shape(op.outputs[0]);
        const std::vector<std::size_t> extents(out.begin(), out.end());
        return xnn_define_static_reshape(subgraph_.get(), extents.size(), extents.data(), id(op.inputs[0]),
                                         id(op.outputs[0]), 0);
    }

    static std::uint32_t padding_flag(const Operator& op) {
        return op.same_padding ? XNN_FLAG_TENSORFLOW_SAME_PADDING : 0U;
    }

    const NetworkModel& model_;
    const TfliteModel& graph_;
    std::span<const int> outputs_;
    std::vector<bool> needed_;
    SubgraphPtr subgraph_;
};

}  // namespace

Result<SubgraphPtr> make_subgraph(const NetworkModel& model, std::span<const int> outputs) {
    Translator translator{model, outputs};
    if (auto status = translator.translate(); !status) return status.error();
    return translator.take();
}

}  // namespace quarterturn::body
