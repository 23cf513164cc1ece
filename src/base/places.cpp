#include "base/places.hpp"

#include <cstdlib>
#include <system_error>

namespace quarterturn {
namespace {

namespace fs = std::filesystem;

/// The specification: a relative path in such a variable is invalid and ignored.
fs::path xdg_folder(const char* variable, const char* below_home) {
    if (const char* value = std::getenv(variable); value != nullptr && *value == '/') return value;
    const char* home = std::getenv("HOME");
    return fs::path{home != nullptr && *home != '\0' ? home : "/"} / below_home;
}

}  // namespace

fs::path default_library_folder() {
    if (const char* value = std::getenv("QUARTERTURN_LIBRARY"); value != nullptr && *value != '\0') return value;
    return xdg_folder("XDG_DATA_HOME", ".local/share") / "quarterturn" / "library";
}

fs::path settings_folder() {
    return xdg_folder("XDG_CONFIG_HOME", ".config") / "quarterturn";
}

fs::path bundled_folder(const fs::path& name) {
    std::error_code failure;
    // The binary is <build>/bin/quarterturn in a build tree and <prefix>/bin/quarterturn when installed.
    const fs::path program = fs::read_symlink("/proc/self/exe", failure);
    const fs::path bin = program.parent_path();
    for (const fs::path& candidate :
         {bin / "../share/quarterturn" / name, bin / "../../.." / name, fs::path{QUARTERTURN_SOURCE_DIR} / name}) {
        if (fs::is_directory(candidate, failure)) return fs::weakly_canonical(candidate, failure);
    }
    return {};
}

}  // namespace quarterturn
