#pragma once
/// Whether an operator's tensors fit together. The inference library trusts the shapes it is given, so a file whose
/// shapes disagree must be refused here.
#include <utility>
#include <vector>

#include "body/tflite_model.hpp"

namespace quarterturn::body {

/// `graph` has passed read_tflite. Constants-only operators (dequantize, densify) are not looked at.
[[nodiscard]] bool shapes_fit(const TfliteModel& graph, const Operator& op);

/// The padding operator's border: elements before and after along each dimension; empty when it is not a constant of
/// the right form.
[[nodiscard]] std::vector<std::pair<int, int>> padding_of(const TfliteModel& graph, const Operator& op);

}  // namespace quarterturn::body
