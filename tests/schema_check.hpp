#pragma once
/// Whether a JSON text keeps to one of the schemas in docs/.
#include <string>

namespace quarterturn::test {

/// Empty when `text` is valid by docs/<schema_name>, else what is wrong with it, one line each.
[[nodiscard]] std::string schema_problems(const std::string& schema_name, const std::string& text);

}  // namespace quarterturn::test
