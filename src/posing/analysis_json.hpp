#pragma once
/// The analysis as the JSON document other programs read (docs/analysis.schema.json). Additions only.
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "posing/analysis.hpp"

namespace quarterturn::posing {

/// Indented UTF-8 text ending in a line feed. `with_signals` adds the "signals" object.
[[nodiscard]] std::string write_analysis(const Analysis& analysis, bool with_signals);

/// Reads what write_analysis wrote, of this or an older version.
/// @error bad_input: not such a document; the sentence names the place. newer_version
[[nodiscard]] Result<Analysis> read_analysis(std::string_view text);

}  // namespace quarterturn::posing
