#pragma once
/// Names for things people make: notes, marks, sessions. RFC 9562 UUID version 7, so that sorting by id is sorting by
/// time of making; lower case.
#include <chrono>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace quarterturn {

/// A new id; two calls never give the same one, in one program or in two.
[[nodiscard]] std::string new_id();

/// The same for a given instant (RFC 9562, 5.7: 48 bits of Unix milliseconds), for tests and imports.
[[nodiscard]] std::string new_id_at(std::chrono::sys_time<std::chrono::milliseconds> instant);

/// Accepts any RFC 9562 UUID in either case and gives it back in lower case.
/// @error bad_input: not 8-4-4-4-12 hexadecimal digits
[[nodiscard]] Result<std::string> parse_id(std::string_view text);

}  // namespace quarterturn
