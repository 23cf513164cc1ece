#pragma once
/// One of each entry with every field set.
#include "base/file.hpp"
#include "journal/documents.hpp"

namespace quarterturn::test {

[[nodiscard]] journal::LibraryFacts sample_library();
[[nodiscard]] journal::Athlete sample_athlete();
[[nodiscard]] journal::Season sample_season();
[[nodiscard]] journal::Session sample_session();
[[nodiscard]] journal::Clip sample_clip();
[[nodiscard]] journal::Note sample_note();
[[nodiscard]] journal::MarkSheet sample_marks();
[[nodiscard]] journal::HoldCorrection sample_correction();  ///< a split
[[nodiscard]] journal::Pin sample_pin();                    ///< two holds

}  // namespace quarterturn::test
