#pragma once
#include <cstddef>
#include <string>
#include <vector>

namespace quarterturn::app {

/// Files and folders whose path begins with what was typed ("~" stands for the home folder), folders with a slash at
/// the end, sorted; hidden ones only when their dot was typed. At most `most`.
[[nodiscard]] std::vector<std::string> path_offers(const std::string& typed, std::size_t most);

/// The longest beginning that all offers share; what was typed when there is none.
[[nodiscard]] std::string completed(const std::string& typed);

}  // namespace quarterturn::app
