#pragma once
/// Strict JSON text (RFC 8259), for the .cpp files of the rooms that keep documents.
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace quarterturn::rules {

using Json = nlohmann::json;
using OrderedJson = nlohmann::ordered_json;  ///< keeps fields in the order in which they were added, for writing

/// Deepest nesting accepted; documents of ours need fewer than ten levels.
inline constexpr int deepest_json = 64;

/// @error bad_input: not JSON (the sentence gives line and column), ill-formed UTF-8, a lone surrogate, a number
/// outside
///        the range of double, a name that comes twice in one object, or nested deeper than deepest_json
[[nodiscard]] Result<Json> parse_json(std::string_view text);

/// Indented by two, ending in a line feed. Ill-formed UTF-8 is replaced by U+FFFD.
[[nodiscard]] std::string json_text(const OrderedJson& document);

/// Adds the fields of `extras` (JSON text of an object, or empty) that `document` does not have, at every level of
/// nested objects.
void add_extras(OrderedJson& document, std::string_view extras);

}  // namespace quarterturn::rules
