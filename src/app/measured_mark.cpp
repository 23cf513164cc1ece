#include "app/measured_mark.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quarterturn::app {

const JobLine* measuring_job(const ReviewState& state, std::string_view fingerprint) {
    const auto found = std::find_if(state.jobs.begin(), state.jobs.end(), [&](const JobLine& job) {
        return job.kind == JobKind::analysis && job.clip == fingerprint;
    });
    return found == state.jobs.end() ? nullptr : &*found;
}

MeasuredMark measured_mark(const ReviewState& state, std::string_view fingerprint) {
    if (const JobLine* job = measuring_job(state, fingerprint))
        return job->waiting ? MeasuredMark::waiting : MeasuredMark::being_measured;
    // What is on screen is surer than what was last looked at.
    const bool open = state.clip && state.clip->fingerprint == fingerprint;
    if (open && state.clip->measured) return MeasuredMark::measured;
    const auto known = state.measured.find(std::string(fingerprint));
    if (known == state.measured.end()) return MeasuredMark::not_measured;
    switch (known->second) {
        case share::MeasuredState::measured:
            return MeasuredMark::measured;
        case share::MeasuredState::other_settings:
            return MeasuredMark::other_settings;
        case share::MeasuredState::older_version:
            return MeasuredMark::older_version;
        case share::MeasuredState::not_measured:
            break;
    }
    return MeasuredMark::not_measured;
}

std::string measured_text(const ReviewState& state, std::string_view fingerprint) {
    switch (measured_mark(state, fingerprint)) {
        case MeasuredMark::measured:
            return "Measured";
        case MeasuredMark::being_measured:
            return fmt::format("Measuring, {:.0f} %", std::floor(measuring_job(state, fingerprint)->share * 100));
        case MeasuredMark::waiting:
            return "Waits its turn";
        case MeasuredMark::other_settings:
            return "Set otherwise since";
        case MeasuredMark::older_version:
            return "By an older version";
        case MeasuredMark::not_measured:
            break;
    }
    return "Not measured";
}

std::string measured_hint(MeasuredMark mark) {
    switch (mark) {
        case MeasuredMark::measured:
            return "Measured as the clip is set now.";
        case MeasuredMark::being_measured:
            return "It is being measured.";
        case MeasuredMark::waiting:
            return "It is measured as soon as those before it are done.";
        case MeasuredMark::other_settings:
            return "It was measured before its settings, its division or a height were changed. Measure it again.";
        case MeasuredMark::older_version:
            return "It was measured by an older version of the program, which measures differently. Measure it again.";
        case MeasuredMark::not_measured:
            break;
    }
    return "It has not been measured yet.";
}

}  // namespace quarterturn::app
