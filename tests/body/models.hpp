#pragma once
/// The real model files for tests; a missing one fails the test, it is never skipped.
#include "body/landmarks.hpp"
#include "body/model_files.hpp"
#include "body/person_detector.hpp"

namespace quarterturn::body {

/// Loaded once per test program.
[[nodiscard]] const Models& full_models();
[[nodiscard]] std::string file_bytes(std::string_view name);

}  // namespace quarterturn::body
