#pragma once
/// The analysis as the JSON document other programs read (docs/analysis.schema.json). Additions only.
///
/// Numbers are rounded so that the same analysis always gives the same text: seconds to 1 ms, angles to 0.1 degree,
/// confidences, cm and Hz to 0.01, % of body height to 0.001, body heights per second to 0.0001.
///
/// A null has a `reason` beside it, in the same object. Where several fields of one object are null for different
/// reasons, `reason` tells them all and `reasons` holds one entry per field name.
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "posing/analysis.hpp"

namespace quarterturn::posing {

/// Indented UTF-8 text ending in a line feed. `with_signals` adds the "signals" object. A measure that is not a finite
/// number is written as null.
[[nodiscard]] std::string write_analysis(const Analysis& analysis, bool with_signals);

/// Reads what write_analysis wrote, of this or an older version. Fields it does not know are passed over.
/// @error bad_input: not such a document; the sentence names the place. newer_version
[[nodiscard]] Result<Analysis> read_analysis(std::string_view text);

}  // namespace quarterturn::posing
