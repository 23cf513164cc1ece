#pragma once
/// The desktop program.
#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>

#include "base/result.hpp"

namespace quarterturn::app {

struct AppOptions {
    std::filesystem::path library;  ///< folder; empty: the one used last, else the default place
    std::filesystem::path clip;     ///< a film to open at once; empty: none
    double scale = 0;               ///< pixels per design unit; 0: what the screen says
    int width = 1280, height = 800;
    bool remember_library = true;  ///< false: settings.json keeps the library it has
    /// Makes the demo library in a new folder; empty: the start page does not offer it. Called from a background
    /// thread.
    std::function<Status(const std::filesystem::path& folder, const std::function<void(double)>& progress,
                         const std::stop_token& stop)>
        make_demo;
    /// Called in the window's thread before each look at what was pressed, for tests that press.
    std::function<void()> before_turn;
};

/// Opens the window and returns when it is closed. @return the exit code: 0; 1 when no window can be opened, with a
/// sentence on standard error
[[nodiscard]] int run(const AppOptions& options);

}  // namespace quarterturn::app
