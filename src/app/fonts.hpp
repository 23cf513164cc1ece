#pragma once
/// Which font files on this machine to write with, and which characters they are asked for.
#include <cstdint>
#include <filesystem>
#include <optional>
#include <set>
#include <string_view>
#include <vector>

namespace quarterturn::app {

struct FontFiles {
    std::filesystem::path text;               ///< Latin, Greek, Cyrillic
    std::filesystem::path bold;               ///< the same, heavier; the text font where there is none
    std::vector<std::filesystem::path> more;  ///< for other scripts, where present
};

/// Looks below the system's font folders (`roots`, each searched with its subfolders) for the fonts the program knows,
/// the first of its list that is there. Absent when none is: then the library's built-in Latin letters have to do.
[[nodiscard]] std::optional<FontFiles> find_fonts(const std::vector<std::filesystem::path>& roots);
/// /usr/share/fonts, /usr/local/share/fonts and the person's own font folder.
[[nodiscard]] std::vector<std::filesystem::path> font_folders();

/// First and last code point of each range the fonts are always loaded with: Latin, Greek, Cyrillic, punctuation and
/// the few signs the program draws with.
[[nodiscard]] const std::vector<std::pair<std::uint32_t, std::uint32_t>>& usual_ranges();

/// Characters beyond the usual ranges that texts on screen need. Grows only.
class NeededCharacters {
  public:
    /// @return true when a character came that was not needed before: the fonts have to be loaded again
    bool add(std::string_view utf8);
    [[nodiscard]] const std::set<std::uint32_t>& all() const { return needed_; }

  private:
    std::set<std::uint32_t> needed_;
};

}  // namespace quarterturn::app
