#pragma once
/// The invented athlete's two seasons as a library, for trying the program out. Only notes and marks are seeded; every
/// measure comes from the films.
#include <filesystem>
#include <stop_token>

#include "base/result.hpp"
#include "journal/store.hpp"

namespace quarterturn::share {

/// Where the sample films are: the build tree's, else the installed share folder's. Empty when there are none.
[[nodiscard]] std::filesystem::path sample_clips_folder();

/// Makes the library in `folder`, or opens the one made there before. The films stay where they are.
/// @param samples  a folder with season.json and the films it names
/// @error not_found: no sample films; conflict: the folder holds something else; as journal::Store
[[nodiscard]] Result<journal::Store> demo_library(const std::filesystem::path& folder,
                                                  const std::filesystem::path& samples, std::stop_token stop = {});

}  // namespace quarterturn::share
