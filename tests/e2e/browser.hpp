#pragma once
/// Runs headless Chromium on a page of ours.
#include <filesystem>
#include <string>
#include <vector>

namespace quarterturn::test {

struct PageVisit {
    std::string dom;                     ///< the document after loading
    std::string log;                     ///< what the browser wrote, console lines included
    std::vector<std::string> addresses;  ///< every address the page made the browser ask for
};

/// Whether the browser is installed.
[[nodiscard]] bool has_browser();

/// Loads `page` in a profile of its own in `folder`, name look-ups turned off.
[[nodiscard]] PageVisit visit(const std::filesystem::path& page, const std::filesystem::path& folder);

}  // namespace quarterturn::test
