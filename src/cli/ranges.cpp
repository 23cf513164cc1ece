#include "cli/ranges.hpp"

#include <fmt/format.h>

#include <charconv>

namespace quarterturn::cli {
namespace {

template <class Number>
CLI::Validator within(Number least, Number most, const char* kind) {
    const std::string range = fmt::format("from {} to {}", least, most);
    return {[=](const std::string& typed) {
                Number value{};
                const char* begin = typed.data() + (typed.starts_with('+') ? 1 : 0);
                const char* end = typed.data() + typed.size();
                const auto [stop, failure] = std::from_chars(begin, end, value);
                const bool kept = failure == std::errc{} && stop == end && value >= least && value <= most;
                return kept ? std::string{} : fmt::format("must be {} {}, not \"{}\"", kind, range, typed);
            },
            range};
}

}  // namespace

CLI::Validator number_from(double least, double most) {
    return within(least, most, "a number");
}

CLI::Validator whole_number_from(int least, int most) {
    return within(least, most, "a whole number");
}

}  // namespace quarterturn::cli
