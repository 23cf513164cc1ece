#pragma once
/// Runs the program itself, as a person's shell would.
#include <filesystem>
#include <string>
#include <vector>

namespace quarterturn::test {

struct Ran {
    int exit = -1;  ///< exit code; 128 + signal when it was killed
    std::string out, err;
};

/// `quarterturn` with these arguments, in the folder, with a home folder of its own inside it, so that nothing of the
/// person running the tests is touched.
[[nodiscard]] Ran run_quarterturn(const std::vector<std::string>& arguments, const std::filesystem::path& folder);

/// Any program found on PATH.
[[nodiscard]] Ran run_program(const std::vector<std::string>& command, const std::filesystem::path& folder);

/// A film with a moving test picture, made by the ffmpeg program (tests only), in `folder`.
[[nodiscard]] std::filesystem::path make_film(const std::filesystem::path& folder, const std::string& name,
                                              const std::string& more_options = "");

}  // namespace quarterturn::test
