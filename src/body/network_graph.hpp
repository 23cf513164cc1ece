#pragma once
/// A network as the inference library's own graph. Private to this room.
#include <xnnpack.h>

#include <memory>
#include <span>

#include "base/result.hpp"
#include "body/network_model.hpp"

namespace quarterturn::body {

struct SubgraphDeleter {
    void operator()(xnn_subgraph* subgraph) const noexcept { xnn_delete_subgraph(subgraph); }
};
using SubgraphPtr = std::unique_ptr<xnn_subgraph, SubgraphDeleter>;

/// Only the operators that `outputs` need; values are numbered like the model's tensors. The graph points into the
/// model's constants, so the model must outlive it and every runtime made from it.
/// @error bad_input: the library refuses a part
[[nodiscard]] Result<SubgraphPtr> make_subgraph(const NetworkModel& model, std::span<const int> outputs);

}  // namespace quarterturn::body
