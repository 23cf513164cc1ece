#include "cli/usage_error.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <string_view>

namespace quarterturn::cli {
namespace {

/// "quarterturn season start", as far as the words are commands.
std::string words_of(const CLI::App& app) {
    std::string words = app.get_name();
    for (const CLI::App* at = &app; !at->get_subcommands().empty();) {
        at = at->get_subcommands().front();
        words += ' ' + at->get_name();
    }
    return words;
}

std::string about_unknown(const std::string& word) {
    if (word.starts_with('-') && word.size() > 1) return fmt::format("There is no option {} here", word);
    return fmt::format("\"{}\" is one word too many", word);
}

/// "--height-cm: must be" without its colon.
std::string plainly(std::string_view text) {
    std::string out{text.substr(0, text.find('\n'))};
    if (const auto mark = out.find(": must be"); mark != std::string::npos) out.erase(mark, 1);
    return out;
}

}  // namespace

std::string usage_sentence(const CLI::App& app, const CLI::ParseError& error) {
    const std::string words = words_of(app);
    const auto unknown = app.remaining(true);
    const bool no_command = dynamic_cast<const CLI::RequiredError*>(&error) != nullptr &&
                            std::string_view{error.what()}.find("subcommand") != std::string_view::npos;
    std::string what;
    if (no_command && unknown.empty()) {
        what = "Name a command";
    } else if (no_command && !unknown.front().starts_with('-')) {
        what = fmt::format("There is no command \"{}\"", unknown.front());
    } else if (no_command || (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr && !unknown.empty())) {
        what = about_unknown(unknown.front());
    } else {
        what = plainly(error.what());
    }
    return fmt::format("{}; `{} --help` says what there is.", what, words);
}

}  // namespace quarterturn::cli
