#pragma once
/// What is wrong with how the program was called.
#include <string>

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace quarterturn::cli {

/// One sentence for a person, and which help says more.
/// @param error  of parsing for `app`; not a wish for help or the version
[[nodiscard]] std::string usage_sentence(const CLI::App& app, const CLI::ParseError& error);

}  // namespace quarterturn::cli
