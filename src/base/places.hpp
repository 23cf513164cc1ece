#pragma once
/// Where things live on this machine, by the XDG Base Directory specification.
#include <filesystem>

namespace quarterturn {

/// $QUARTERTURN_LIBRARY, else quarterturn/library in $XDG_DATA_HOME or ~/.local/share.
[[nodiscard]] std::filesystem::path default_library_folder();

/// quarterturn in $XDG_CONFIG_HOME or ~/.config.
[[nodiscard]] std::filesystem::path settings_folder();

/// What came with the program (demo films, models): the build tree's source while it is there, else the installed share
/// folder. `name` is a folder such as "sample_clips". Empty when neither has it.
[[nodiscard]] std::filesystem::path bundled_folder(const std::filesystem::path& name);

}  // namespace quarterturn
