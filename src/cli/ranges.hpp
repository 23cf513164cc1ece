#pragma once
/// Limits of numbers on the command line, in words: "FLOAT:from 50 to 260" in the help, "must be a number from 50 to
/// 260" when it is not kept.
#include <CLI/CLI.hpp>

namespace quarterturn::cli {

[[nodiscard]] CLI::Validator number_from(double least, double most);
[[nodiscard]] CLI::Validator whole_number_from(int least, int most);

}  // namespace quarterturn::cli
