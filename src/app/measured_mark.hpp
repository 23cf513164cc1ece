#pragma once
/// Whether a clip is measured, as a person sees it: a shape and a word.
#include <string>
#include <string_view>

#include "app/state.hpp"

namespace quarterturn::app {

enum class MeasuredMark { measured, being_measured, waiting, not_measured, other_settings, older_version };

/// From the jobs, else from what was last looked at; for an open clip outside a library from the clip itself.
[[nodiscard]] MeasuredMark measured_mark(const ReviewState& state, std::string_view fingerprint);

/// "Measured", "Being measured, 40 %", "Waiting to be measured"...
[[nodiscard]] std::string measured_text(const ReviewState& state, std::string_view fingerprint);
/// One sentence that says what it means and what can be done.
[[nodiscard]] std::string measured_hint(MeasuredMark mark);

/// The job that measures the clip; nullptr where there is none.
[[nodiscard]] const JobLine* measuring_job(const ReviewState& state, std::string_view fingerprint);

}  // namespace quarterturn::app
