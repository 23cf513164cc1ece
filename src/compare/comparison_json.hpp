#pragma once
/// The comparison as the JSON document other programs read (docs/comparison.schema.json): `quarterturn.comparison`
/// version 1. Additions only.
///
/// Rounded so that the same comparison always gives the same text: seconds to 1 ms, scales to 0.0001, everything else
/// to 0.001. A null has a `reason` beside it.
#include <string>

#include "compare/comparison.hpp"

namespace quarterturn::compare {

/// Indented UTF-8 text ending in a line feed.
/// @param rules  whose words the summary uses; may be nullptr
[[nodiscard]] std::string write_comparison(const Comparison& comparison, const rules::RuleSet* rules = nullptr);

}  // namespace quarterturn::compare
