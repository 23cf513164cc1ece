#pragma once
/// The command line. Exit codes: see cli/exit_code.hpp and docs/command_line.md.

namespace quarterturn::cli {

/// Runs one command and gives its exit code. Results go to standard output, everything else to standard error.
int run(int argc, const char* const* argv);

}  // namespace quarterturn::cli
