#pragma once
#include <string_view>

namespace quarterturn::share {

/// The reports' style sheet; uses the custom properties of theme_style() (colours.hpp).
[[nodiscard]] std::string_view report_style();

}  // namespace quarterturn::share
