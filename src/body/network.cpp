#include "body/network.hpp"

#include <xnnpack.h>

#include <algorithm>
#include <limits>
#include <utility>

#include "body/network_graph.hpp"

namespace quarterturn::body {
namespace {

struct RuntimeDeleter {
    void operator()(xnn_runtime* runtime) const noexcept { xnn_delete_runtime(runtime); }
};
using RuntimePtr = std::unique_ptr<xnn_runtime, RuntimeDeleter>;

/// A tensor handed in or out. The library may touch a few bytes past the end, so there is room behind.
struct Buffer {
    int tensor = 0;
    std::size_t elements = 0;
    std::vector<float> values;
};

Buffer buffer_for(const TfliteModel& graph, int tensor) {
    const std::size_t elements = graph.tensors[static_cast<std::size_t>(tensor)].elements();
    return {tensor, elements, std::vector<float>(elements + XNN_EXTRA_BYTES / sizeof(float))};
}

bool initialised() {
    static const bool done = xnn_initialize(nullptr) == xnn_status_success;
    return done;
}

/// How an asked-for output is put together: the library cannot concatenate, so its pieces are computed and copied one
/// behind the other.
struct Assembly {
    std::vector<std::size_t> pieces;  ///< numbers of buffers
    std::vector<float> joined;        ///< only where there is more than one piece
};

const Operator* producer_of(const TfliteModel& graph, int tensor) {
    for (const Operator& op : graph.operators) {
        if (op.outputs[0] == tensor) return &op;
    }
    return nullptr;
}

/// Only along an axis before which every extent is 1, where joining is copying.
bool joins_by_copying(const TfliteModel& graph, const Operator& op) {
    const auto& shape = graph.tensors[static_cast<std::size_t>(op.outputs[0])].shape;
    for (int i = 0; i < op.axis; ++i) {
        if (shape[static_cast<std::size_t>(i)] != 1) return false;
    }
    return op.lowest == -std::numeric_limits<float>::infinity();
}

}  // namespace

struct Network::State {
    std::shared_ptr<const NetworkModel> model;
    Buffer input;
    std::vector<Buffer> pieces;
    std::vector<Assembly> outputs;
    RuntimePtr runtime;

    [[nodiscard]] Status plan(const std::vector<int>& wanted);
    [[nodiscard]] std::size_t piece(int tensor);
    [[nodiscard]] Status connect();
};

std::size_t Network::State::piece(int tensor) {
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (pieces[i].tensor == tensor) return i;
    }
    pieces.push_back(buffer_for(model->graph(), tensor));
    return pieces.size() - 1;
}

Status Network::State::plan(const std::vector<int>& wanted) {
    const TfliteModel& graph = model->graph();
    for (const int tensor : wanted) {
        const bool exists = tensor >= 0 && static_cast<std::size_t>(tensor) < graph.tensors.size();
        const Operator* op = exists ? producer_of(graph, tensor) : nullptr;
        if (op == nullptr || model->folded(*op)) return Error{ErrorCode::bad_input, "The model has no such output."};
        Assembly assembly;
        if (op->kind == OperatorKind::concatenation) {
            if (!joins_by_copying(graph, *op)) {
                return Error{ErrorCode::unsupported, "The model joins its outputs in a way this program cannot run."};
            }
            for (const int source : op->inputs) assembly.pieces.push_back(piece(source));
            assembly.joined.resize(graph.tensors[static_cast<std::size_t>(tensor)].elements());
        } else {
            assembly.pieces.push_back(piece(tensor));
        }
        outputs.push_back(std::move(assembly));
    }
    return ok();
}

Status Network::State::connect() {
    std::vector<xnn_external_value> values{{static_cast<std::uint32_t>(input.tensor), input.values.data()}};
    for (Buffer& buffer : pieces) values.push_back({static_cast<std::uint32_t>(buffer.tensor), buffer.values.data()});
    if (xnn_setup_runtime(runtime.get(), values.size(), values.data()) == xnn_status_success) return ok();
    return Error{ErrorCode::bad_input, "The inference library refuses the model's inputs and outputs."};
}

Network::Network(std::unique_ptr<State> state) : state_(std::move(state)) {}
Network::Network(Network&&) noexcept = default;
Network& Network::operator=(Network&&) noexcept = default;
Network::~Network() = default;

Result<Network> Network::build(std::shared_ptr<const NetworkModel> model, std::vector<int> outputs) {
    if (!initialised()) {
        return Error{ErrorCode::unsupported, "The inference library does not support this processor."};
    }
    auto state = std::make_unique<State>();
    state->model = std::move(model);
    state->input = buffer_for(state->model->graph(), state->model->graph().inputs[0]);
    if (auto status = state->plan(outputs); !status) return status.error();
    std::vector<int> computed;
    for (const Buffer& buffer : state->pieces) computed.push_back(buffer.tensor);
    const auto subgraph = make_subgraph(*state->model, computed);
    if (!subgraph) return subgraph.error();
    xnn_runtime_t runtime = nullptr;
    if (xnn_create_runtime_v2(subgraph->get(), nullptr, 0, &runtime) != xnn_status_success) {
        return Error{ErrorCode::unsupported, "The inference library cannot run this model."};
    }
    state->runtime.reset(runtime);
    if (auto status = state->connect(); !status) return status.error();
    return Network{std::move(state)};
}

std::span<float> Network::input() {
    return {state_->input.values.data(), state_->input.elements};
}

std::span<const int> Network::input_shape() const {
    const TfliteModel& graph = state_->model->graph();
    return graph.tensors[static_cast<std::size_t>(graph.inputs[0])].shape;
}

Status Network::run() {
    if (xnn_invoke_runtime(state_->runtime.get()) != xnn_status_success) {
        return Error{ErrorCode::io, "The inference library failed while running the model."};
    }
    for (Assembly& assembly : state_->outputs) {
        if (assembly.joined.empty()) continue;
        auto to = assembly.joined.begin();
        for (const std::size_t number : assembly.pieces) {
            const Buffer& buffer = state_->pieces[number];
            to = std::copy_n(buffer.values.begin(), buffer.elements, to);
        }
    }
    return ok();
}

std::span<const float> Network::output(std::size_t number) const {
    const Assembly& assembly = state_->outputs[number];
    if (!assembly.joined.empty()) return assembly.joined;
    const Buffer& buffer = state_->pieces[assembly.pieces[0]];
    return {buffer.values.data(), buffer.elements};
}

}  // namespace quarterturn::body
