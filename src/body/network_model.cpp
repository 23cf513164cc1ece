#include "body/network_model.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstring>

#include "base/file.hpp"
#include "body/network_shapes.hpp"

namespace quarterturn::body {
namespace {

Error misfit(const char* what) {
    return {ErrorCode::bad_input,
            fmt::format("The model file's {} do not fit together; run third_party/setup.sh again.", what)};
}

std::vector<float> unpacked(const Tensor& tensor) {
    std::vector<float> values(tensor.data.size() / (tensor.type == ElementType::float16 ? 2 : 4));
    if (tensor.type == ElementType::float32) {
        std::memcpy(values.data(), tensor.data.data(), values.size() * sizeof(float));
        return values;
    }
    for (std::size_t i = 0; i < values.size(); ++i) {
        std::uint16_t bits = 0;
        std::memcpy(&bits, tensor.data.data() + 2 * i, sizeof(bits));
        values[i] = from_half(bits);
    }
    return values;
}

/// Walks a sparse constant's dimensions in traversal order and puts every stored element where it belongs.
class Densifier {
  public:
    Densifier(const Tensor& tensor, const std::vector<float>& stored) : tensor_(tensor), stored_(stored) {}

    /// Empty when the layout makes no sense.
    [[nodiscard]] std::vector<float> run() {
        if (!layout_is_sane()) return {};
        dense_.assign(tensor_.elements(), 0.0F);
        at_.assign(tensor_.sparse.size(), 0);
        if (!walk(0, 0) || next_ != stored_.size()) return {};
        return std::move(dense_);
    }

  private:
    [[nodiscard]] bool layout_is_sane() const {
        const std::size_t rank = tensor_.shape.size();
        const std::size_t levels = rank + tensor_.block_map.size();
        if (tensor_.sparse.size() != levels || tensor_.traversal_order.size() != levels) return false;
        std::vector<bool> seen(levels, false);
        for (std::size_t level = 0; level < levels; ++level) {
            const int order = tensor_.traversal_order[level];
            if (order < 0 || static_cast<std::size_t>(order) >= levels || seen[static_cast<std::size_t>(order)])
                return false;
            seen[static_cast<std::size_t>(order)] = true;
            const SparseDimension& dimension = tensor_.sparse[level];
            if (dimension.dense && (dimension.size < 1 || dimension.size > (1 << 20))) return false;
        }
        for (const int dimension : tensor_.block_map) {
            if (dimension < 0 || static_cast<std::size_t>(dimension) >= rank) return false;
        }
        return true;
    }

    /// `position`: which node of this level's tree we stand under.
    [[nodiscard]] bool walk(std::size_t level, std::size_t position) {
        if (level == tensor_.sparse.size()) return place();
        const SparseDimension& dimension = tensor_.sparse[level];
        if (dimension.dense) {
            for (int i = 0; i < dimension.size; ++i) {
                at_[level] = i;
                const std::size_t below =
                    position * static_cast<std::size_t>(dimension.size) + static_cast<std::size_t>(i);
                if (!walk(level + 1, below)) return false;
            }
            return true;
        }
        if (position + 1 >= dimension.segments.size()) return false;
        const int first = dimension.segments[position];
        const int last = dimension.segments[position + 1];
        if (first < 0 || last < first || static_cast<std::size_t>(last) > dimension.indices.size()) return false;
        for (int i = first; i < last; ++i) {
            at_[level] = dimension.indices[static_cast<std::size_t>(i)];
            if (!walk(level + 1, static_cast<std::size_t>(i))) return false;
        }
        return true;
    }

    [[nodiscard]] bool place() {
        const std::size_t rank = tensor_.shape.size();
        std::vector<long> where(rank, 0);
        // Block dimensions refine the ordinary ones: index = outer * block + inner.
        for (std::size_t level = 0; level < tensor_.sparse.size(); ++level) {
            const auto order = static_cast<std::size_t>(tensor_.traversal_order[level]);
            if (order < rank)
                where[order] += static_cast<long>(at_[level]) * block_extent(order);
            else
                where[static_cast<std::size_t>(tensor_.block_map[order - rank])] += at_[level];
        }
        std::size_t flat = 0;
        for (std::size_t i = 0; i < rank; ++i) {
            if (where[i] < 0 || where[i] >= tensor_.shape[i]) return false;
            flat = flat * static_cast<std::size_t>(tensor_.shape[i]) + static_cast<std::size_t>(where[i]);
        }
        if (next_ >= stored_.size()) return false;
        dense_[flat] = stored_[next_++];
        return true;
    }

    [[nodiscard]] long block_extent(std::size_t dimension) const {
        const std::size_t rank = tensor_.shape.size();
        for (std::size_t level = 0; level < tensor_.sparse.size(); ++level) {
            const auto order = static_cast<std::size_t>(tensor_.traversal_order[level]);
            if (order < rank || tensor_.block_map[order - rank] != static_cast<int>(dimension)) continue;
            return tensor_.sparse[level].size;
        }
        return 1;
    }

    const Tensor& tensor_;
    const std::vector<float>& stored_;
    std::vector<float> dense_;
    std::vector<int> at_;
    std::size_t next_ = 0;
};

bool is_float(const Tensor& tensor) {
    return tensor.type == ElementType::float32 || tensor.type == ElementType::float16;
}

/// Constants in the file, then those that dequantize and densify make from them.
Status fold(const TfliteModel& graph, std::vector<std::vector<float>>& constants) {
    constants.resize(graph.tensors.size());
    for (std::size_t i = 0; i < graph.tensors.size(); ++i) {
        const Tensor& tensor = graph.tensors[i];
        if (!tensor.data.empty() && is_float(tensor)) constants[i] = unpacked(tensor);
    }
    for (const Operator& op : graph.operators) {
        if (op.kind != OperatorKind::dequantize && op.kind != OperatorKind::densify) continue;
        if (op.inputs[0] < 0) return misfit("constants");
        const auto from = static_cast<std::size_t>(op.inputs[0]);
        const auto to = static_cast<std::size_t>(op.outputs[0]);
        std::vector<float> made =
            op.kind == OperatorKind::densify ? Densifier{graph.tensors[from], constants[from]}.run() : constants[from];
        if (made.empty() || made.size() != graph.tensors[to].elements()) return misfit("constants");
        constants[to] = std::move(made);
    }
    return ok();
}

/// Everything an operator reads has been computed by then, and no tensor is written twice.
bool ordered(const TfliteModel& graph, const std::vector<std::vector<float>>& constants) {
    std::vector<bool> ready(graph.tensors.size(), false);
    for (std::size_t i = 0; i < ready.size(); ++i) ready[i] = !graph.tensors[i].data.empty();
    for (const int input : graph.inputs) {
        if (ready[static_cast<std::size_t>(input)]) return false;
        ready[static_cast<std::size_t>(input)] = true;
    }
    for (const Operator& op : graph.operators) {
        for (const int input : op.inputs) {
            if (input >= 0 && !ready[static_cast<std::size_t>(input)]) return false;
        }
        const auto output = static_cast<std::size_t>(op.outputs[0]);
        if (ready[output]) return false;
        ready[output] = true;
    }
    for (const int output : graph.outputs) {
        if (!ready[static_cast<std::size_t>(output)] || !constants[static_cast<std::size_t>(output)].empty())
            return false;
    }
    return true;
}

bool computed_are_float32(const TfliteModel& graph, const std::vector<std::vector<float>>& constants) {
    for (const int input : graph.inputs) {
        if (graph.tensors[static_cast<std::size_t>(input)].type != ElementType::float32) return false;
    }
    for (const Operator& op : graph.operators) {
        const auto output = static_cast<std::size_t>(op.outputs[0]);
        if (constants[output].empty() && graph.tensors[output].type != ElementType::float32) return false;
    }
    return true;
}

}  // namespace

float from_half(std::uint16_t bits) {
    const int exponent = (bits >> 10U) & 31;
    const int fraction = bits & 1023;
    const float sign = (bits & 0x8000U) != 0 ? -1.0F : 1.0F;
    if (exponent == 31) return fraction == 0 ? sign * HUGE_VALF : std::nanf("");
    if (exponent == 0) return sign * std::ldexp(static_cast<float>(fraction), -24);
    return sign * std::ldexp(static_cast<float>(1024 + fraction), exponent - 25);
}

Result<std::shared_ptr<const NetworkModel>> NetworkModel::from_bytes(std::string bytes) {
    auto graph = read_tflite(std::move(bytes));
    if (!graph) return graph.error();
    auto model = std::make_shared<NetworkModel>();
    model->graph_ = std::move(graph).value();
    if (auto status = fold(model->graph_, model->constants_); !status) return status.error();
    if (!ordered(model->graph_, model->constants_)) return misfit("operators");
    if (!computed_are_float32(model->graph_, model->constants_)) return misfit("number types");
    for (const Operator& op : model->graph_.operators) {
        if (!model->folded(op) && !shapes_fit(model->graph_, op)) return misfit("shapes");
    }
    return std::shared_ptr<const NetworkModel>{std::move(model)};
}

Result<std::shared_ptr<const NetworkModel>> NetworkModel::load(const std::filesystem::path& path) {
    auto bytes = read_file(path);
    if (bytes) return from_bytes(std::move(bytes).value());
    if (bytes.error().code != ErrorCode::not_found) return bytes.error();
    return Error{
        ErrorCode::missing_part,
        fmt::format("The body-landmark model {} is not installed; run third_party/setup.sh to fetch it, or name "
                    "its folder with --model-dir.",
                    path.filename().string())};
}

std::optional<int> NetworkModel::output_of_size(std::size_t elements) const {
    for (const int output : graph_.outputs) {
        if (graph_.tensors[static_cast<std::size_t>(output)].elements() == elements) return output;
    }
    return std::nullopt;
}

}  // namespace quarterturn::body
