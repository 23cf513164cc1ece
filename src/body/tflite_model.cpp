#include "body/tflite_model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <limits>
#include <optional>

#include "body/flat_reader.hpp"

namespace quarterturn::body {
namespace {

// Field and operator numbers below are those of the published TensorFlow Lite format, schema version 3.
constexpr std::uint32_t schema_version = 3;
// Keeps products of extents in range, and is far above any picture network.
constexpr int longest_extent = 1 << 20;
constexpr std::size_t most_elements = std::size_t{1} << 28U;

std::optional<OperatorKind> kind_of(int builtin_code) {
    switch (builtin_code) {
        case 0:
            return OperatorKind::add;
        case 2:
            return OperatorKind::concatenation;
        case 3:
            return OperatorKind::convolution;
        case 4:
            return OperatorKind::depthwise_convolution;
        case 5:
            return OperatorKind::depth_to_space;
        case 6:
            return OperatorKind::dequantize;
        case 14:
            return OperatorKind::logistic;
        case 17:
            return OperatorKind::max_pool;
        case 22:
            return OperatorKind::reshape;
        case 23:
            return OperatorKind::resize_bilinear;
        case 34:
            return OperatorKind::pad;
        case 124:
            return OperatorKind::densify;
        default:
            return std::nullopt;
    }
}

ElementType type_of(std::int8_t code) {
    switch (code) {
        case 0:
            return ElementType::float32;
        case 1:
            return ElementType::float16;
        case 2:
            return ElementType::int32;
        default:
            return ElementType::other;
    }
}

/// none, ReLU, ReLU -1..1, ReLU 0..6; anything else is not understood.
bool set_activation(Operator& op, std::int8_t code) {
    constexpr float infinity = std::numeric_limits<float>::infinity();
    op.lowest = code == 0 ? -infinity : (code == 2 ? -1.0F : 0.0F);
    op.highest = code == 3 ? 6.0F : (code == 2 ? 1.0F : infinity);
    return code >= 0 && code <= 3;
}

bool read_convolution(Operator& op, const FlatTable& options, bool depthwise) {
    op.same_padding = options.scalar<std::int8_t>(0, 0) == 0;
    op.stride_x = options.scalar<std::int32_t>(1, 0);
    op.stride_y = options.scalar<std::int32_t>(2, 0);
    if (depthwise) op.depth_multiplier = options.scalar<std::int32_t>(3, 0);
    const int next = depthwise ? 4 : 3;
    op.dilation_x = options.scalar<std::int32_t>(next + 1, 1);
    op.dilation_y = options.scalar<std::int32_t>(next + 2, 1);
    return set_activation(op, options.scalar<std::int8_t>(next, 0));
}

bool read_pool(Operator& op, const FlatTable& options) {
    op.same_padding = options.scalar<std::int8_t>(0, 0) == 0;
    op.stride_x = options.scalar<std::int32_t>(1, 0);
    op.stride_y = options.scalar<std::int32_t>(2, 0);
    op.pool_width = options.scalar<std::int32_t>(3, 0);
    op.pool_height = options.scalar<std::int32_t>(4, 0);
    return set_activation(op, options.scalar<std::int8_t>(5, 0));
}

bool read_options(Operator& op, const FlatTable& options) {
    switch (op.kind) {
        case OperatorKind::convolution:
            return read_convolution(op, options, false);
        case OperatorKind::depthwise_convolution:
            return read_convolution(op, options, true);
        case OperatorKind::max_pool:
            return read_pool(op, options);
        case OperatorKind::add:
            return set_activation(op, options.scalar<std::int8_t>(0, 0));
        case OperatorKind::concatenation:
            op.axis = options.scalar<std::int32_t>(0, 0);
            return set_activation(op, options.scalar<std::int8_t>(1, 0));
        case OperatorKind::depth_to_space:
            op.block_size = options.scalar<std::int32_t>(0, 0);
            return true;
        case OperatorKind::resize_bilinear:
            op.align_corners = options.scalar<std::uint8_t>(2, 0) != 0;
            op.half_pixel_centres = options.scalar<std::uint8_t>(3, 0) != 0;
            return true;
        default:
            return true;
    }
}

bool sane(const Operator& op) {
    const auto small = [](int value) { return value >= 1 && value <= 4096; };
    return small(op.stride_x) && small(op.stride_y) && small(op.dilation_x) && small(op.dilation_y) &&
           small(op.depth_multiplier) && small(op.pool_width) && small(op.pool_height) && small(op.block_size);
}

/// Widths differ by what the writer needed: 1 = 32 bit, 2 = 16 bit, 3 = 8 bit.
std::vector<int> read_index_list(const FlatTable& dimension, int type_field) {
    const auto list = dimension.table(type_field + 1);
    if (!list) return {};
    switch (dimension.scalar<std::uint8_t>(type_field, 0)) {
        case 1:
            return list->numbers<std::int32_t>(0);
        case 2: {
            const auto values = list->numbers<std::uint16_t>(0);
            return {values.begin(), values.end()};
        }
        case 3: {
            const auto values = list->numbers<std::uint8_t>(0);
            return {values.begin(), values.end()};
        }
        default:
            return {};
    }
}

void read_sparsity(Tensor& tensor, const FlatTable& sparsity) {
    tensor.traversal_order = sparsity.numbers<std::int32_t>(0);
    tensor.block_map = sparsity.numbers<std::int32_t>(1);
    for (const FlatTable& dimension : sparsity.tables(2)) {
        SparseDimension out;
        out.dense = dimension.scalar<std::int8_t>(0, 0) == 0;
        out.size = dimension.scalar<std::int32_t>(1, 0);
        if (!out.dense) {
            out.segments = read_index_list(dimension, 2);
            out.indices = read_index_list(dimension, 4);
        }
        tensor.sparse.push_back(std::move(out));
    }
}

bool sane_shape(const Tensor& tensor) {
    std::size_t elements = 1;
    for (const int extent : tensor.shape) {
        if (extent < 1 || extent > longest_extent) return false;
        elements *= static_cast<std::size_t>(extent);
        if (elements > most_elements) return false;
    }
    return tensor.shape.size() <= 6;
}

std::size_t bytes_per_element(ElementType type) {
    return type == ElementType::float16 ? 2 : 4;
}

/// A constant must have exactly the bytes its shape asks for, or a sparse layout that explains why not.
bool sane_constant(const Tensor& tensor) {
    if (tensor.data.empty() || !tensor.sparse.empty() || tensor.type == ElementType::other) return true;
    return tensor.data.size() == tensor.elements() * bytes_per_element(tensor.type);
}

bool read_tensors(TfliteModel& model, const FlatTable& graph, const std::vector<FlatTable>& buffers) {
    for (const FlatTable& table : graph.tables(0)) {
        Tensor tensor;
        tensor.shape = table.numbers<std::int32_t>(0);
        tensor.type = type_of(table.scalar<std::int8_t>(1, 0));
        const auto buffer = table.scalar<std::uint32_t>(2, 0);
        if (buffer >= buffers.size()) return false;
        tensor.data = buffers[buffer].raw(0);
        tensor.name = table.text(3);
        if (const auto sparsity = table.table(6)) read_sparsity(tensor, *sparsity);
        if (!sane_shape(tensor) || !sane_constant(tensor)) return false;
        model.tensors.push_back(std::move(tensor));
    }
    return true;
}

bool known_tensors(const std::vector<int>& numbers, std::size_t count, bool optional_allowed) {
    return std::all_of(numbers.begin(), numbers.end(), [&](int number) {
        return (optional_allowed && number == -1) || (number >= 0 && static_cast<std::size_t>(number) < count);
    });
}

Error damaged() {
    return {ErrorCode::bad_input, "The model file is damaged; run third_party/setup.sh again."};
}

Status read_operators(TfliteModel& model, const FlatTable& graph, const std::vector<FlatTable>& codes) {
    for (const FlatTable& table : graph.tables(3)) {
        const auto code = table.scalar<std::uint32_t>(0, 0);
        if (code >= codes.size()) return damaged();
        // Codes above 127 live in the newer, wider field; the older one then holds 127.
        const int builtin =
            std::max<int>(codes[code].scalar<std::int8_t>(0, 0), codes[code].scalar<std::int32_t>(3, 0));
        const auto kind = kind_of(builtin);
        if (!kind)
            return Error{ErrorCode::unsupported,
                         fmt::format("The model uses operator {}, which this program cannot run.", builtin)};
        Operator op;
        op.kind = *kind;
        op.inputs = table.numbers<std::int32_t>(1);
        op.outputs = table.numbers<std::int32_t>(2);
        if (const auto options = table.table(4); options && !read_options(op, *options)) {
            return Error{ErrorCode::unsupported, "The model uses an activation this program cannot run."};
        }
        const bool wired = !op.inputs.empty() && op.outputs.size() == 1 &&
                           known_tensors(op.inputs, model.tensors.size(), true) &&
                           known_tensors(op.outputs, model.tensors.size(), false);
        if (!wired || !sane(op)) return damaged();
        model.operators.push_back(std::move(op));
    }
    return ok();
}

Status read_graph(TfliteModel& model, const FlatTable& root) {
    if (root.scalar<std::uint32_t>(0, 0) != schema_version) {
        return Error{ErrorCode::unsupported, "The model file has a version this program cannot read."};
    }
    const auto graphs = root.tables(2);
    if (graphs.size() != 1) return damaged();
    if (!read_tensors(model, graphs[0], root.tables(4))) return damaged();
    if (auto status = read_operators(model, graphs[0], root.tables(1)); !status) return status;
    model.inputs = graphs[0].numbers<std::int32_t>(1);
    model.outputs = graphs[0].numbers<std::int32_t>(2);
    const bool wired = !model.inputs.empty() && !model.outputs.empty() &&
                       known_tensors(model.inputs, model.tensors.size(), false) &&
                       known_tensors(model.outputs, model.tensors.size(), false);
    return wired ? ok() : Status{damaged()};
}

}  // namespace

std::size_t Tensor::elements() const {
    std::size_t product = 1;
    for (const int extent : shape) product *= static_cast<std::size_t>(extent);
    return product;
}

Result<TfliteModel> read_tflite(std::string bytes) {
    if (bytes.size() < 16 || std::memcmp(bytes.data() + 4, "TFL3", 4) != 0) {
        return Error{ErrorCode::bad_input, "This is not a model file (TensorFlow Lite, version 3)."};
    }
    if (bytes.size() >= FLATBUFFERS_MAX_BUFFER_SIZE) return damaged();
    TfliteModel model;
    model.bytes = std::move(bytes);
    FlatReader reader{{reinterpret_cast<const std::uint8_t*>(model.bytes.data()), model.bytes.size()}};
    const auto root = reader.follow(0);
    if (!root) return damaged();
    const Status status = read_graph(model, FlatTable{reader, *root});
    if (!reader.sound()) return damaged();
    if (!status) return status.error();
    return model;
}

}  // namespace quarterturn::body
