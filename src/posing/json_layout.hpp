#pragma once
/// JSON text a person can read: objects and lists of objects indented, lists of plain values on one line each.
/// Inside the room only: nlohmann's types stay out of its other headers.
#include <nlohmann/json.hpp>
#include <string>

namespace quarterturn::posing {

/// Ends in a line feed.
[[nodiscard]] std::string lay_out(const nlohmann::ordered_json& document);

}  // namespace quarterturn::posing
