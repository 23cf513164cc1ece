#pragma once
/// Short routines for the tests, as script text.
#include <string>

#include "truth.hpp"

namespace quarterturn::sample {

/// Throws std::bad_variant_access when the text is no script: a bug in the test.
inline Script script_of(const std::string& steps, const std::string& more = "") {
    return parse_script(
               R"({"format":"quarterturn.script","version":1,"seed":9,"natural":{"sway_cm":0,"breath_mm":0},)" + more +
               R"("steps":[)" + steps + "]}")
        .value();
}

inline std::vector<TrueSegment> only(const Truth& truth, TrueKind kind) {
    std::vector<TrueSegment> out;
    for (const TrueSegment& segment : truth.segments)
        if (segment.kind == kind) out.push_back(segment);
    return out;
}

inline const std::string quarter_turns =
    R"({"do":"walk_in"},{"do":"stand","hold_s":1.5},{"do":"pose","pose":"quarter_front","hold_s":3},)"
    R"({"do":"pose","pose":"quarter_left_side","hold_s":2.5},{"do":"pose","pose":"quarter_back","hold_s":2},)"
    R"({"do":"pose","pose":"quarter_right_side","hold_s":2.2},{"do":"pose","pose":"quarter_front","hold_s":2.8},{"do":"walk_out"})";

}  // namespace quarterturn::sample
