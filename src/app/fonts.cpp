#include "app/fonts.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <map>
#include <string>

namespace quarterturn::app {
namespace {

struct Pair {
    std::string_view text, bold;
};
constexpr std::array preferred{
    Pair{"NotoSans-Regular.ttf", "NotoSans-Bold.ttf"}, Pair{"DejaVuSans.ttf", "DejaVuSans-Bold.ttf"},
    Pair{"LiberationSans-Regular.ttf", "LiberationSans-Bold.ttf"}, Pair{"FreeSans.ttf", "FreeSansBold.ttf"}};
// Asked in this order for what the text font does not have.
constexpr std::array<std::string_view, 14> others{"DejaVuSans.ttf",
                                                  "NotoSansCJK-Regular.ttc",
                                                  "NotoSansHebrew-Regular.ttf",
                                                  "NotoSansArabic-Regular.ttf",
                                                  "NotoSansThai-Regular.ttf",
                                                  "NotoSansArmenian-Regular.ttf",
                                                  "NotoSansGeorgian-Regular.ttf",
                                                  "NotoSansDevanagari-Regular.ttf",
                                                  "NotoSansSymbols2-Regular.ttf",
                                                  "wqy-microhei.ttc",
                                                  "fonts-japanese-gothic.ttf",
                                                  "NanumGothic.ttf",
                                                  "DroidSansFallbackFull.ttf",
                                                  "unifont.ttf"};

std::map<std::string, std::filesystem::path> files_below(const std::vector<std::filesystem::path>& roots) {
    std::map<std::string, std::filesystem::path> found;
    for (const auto& root : roots) {
        std::error_code error;
        const auto options = std::filesystem::directory_options::skip_permission_denied;
        auto entry = std::filesystem::recursive_directory_iterator(root, options, error);
        for (; !error && entry != std::filesystem::recursive_directory_iterator(); entry.increment(error))
            found.emplace(entry->path().filename().string(), entry->path());
    }
    return found;
}

}  // namespace

std::optional<FontFiles> find_fonts(const std::vector<std::filesystem::path>& roots) {
    const auto files = files_below(roots);
    FontFiles result;
    for (const Pair& pair : preferred) {
        const auto text = files.find(std::string(pair.text));
        if (text == files.end()) continue;
        const auto bold = files.find(std::string(pair.bold));
        result.text = text->second;
        result.bold = bold == files.end() ? text->second : bold->second;
        break;
    }
    if (result.text.empty()) return std::nullopt;
    for (const std::string_view name : others)
        if (const auto file = files.find(std::string(name)); file != files.end() && file->second != result.text)
            result.more.push_back(file->second);
    return result;
}

std::vector<std::filesystem::path> font_folders() {
    std::vector<std::filesystem::path> folders{"/usr/share/fonts", "/usr/local/share/fonts"};
    if (const char* home = std::getenv("HOME")) folders.push_back(std::filesystem::path(home) / ".local/share/fonts");
    return folders;
}

const std::vector<std::pair<std::uint32_t, std::uint32_t>>& usual_ranges() {
    static const std::vector<std::pair<std::uint32_t, std::uint32_t>> ranges{
        {0x0020, 0x00FF}, {0x0100, 0x024F}, {0x0370, 0x03FF}, {0x0400, 0x052F}, {0x1E00, 0x1EFF},
        {0x2010, 0x2027}, {0x2030, 0x203A}, {0x20A0, 0x20BF}, {0x2190, 0x2193}, {0xFFFD, 0xFFFD}};
    return ranges;
}

bool NeededCharacters::add(std::string_view utf8) {
    bool grew = false;
    for (std::size_t i = 0; i < utf8.size();) {
        const auto lead = static_cast<unsigned char>(utf8[i]);
        const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
        if (i + length > utf8.size()) break;
        std::uint32_t point = length == 1 ? lead : lead & (0xFFU >> (length + 1));
        for (std::size_t k = 1; k < length; ++k)
            point = point << 6U | (static_cast<unsigned char>(utf8[i + k]) & 0x3FU);
        i += length;
        const auto& ranges = usual_ranges();
        const bool usual = point < 0x20 || std::any_of(ranges.begin(), ranges.end(), [&](const auto& range) {
                               return point >= range.first && point <= range.second;
                           });
        // The library's characters have 16 bits: others cannot be drawn and show as a box.
        if (!usual && point <= 0xFFFF) grew = needed_.insert(point).second || grew;
    }
    return grew;
}

}  // namespace quarterturn::app
