#include "share/lettering.hpp"

#include <ft2build.h>
#include FT_FREETYPE_H

#include <algorithm>
#include <array>
#include <cstdlib>

#include "base/text.hpp"

namespace quarterturn::share {
namespace {

constexpr std::array<std::string_view, 4> preferred{"DejaVuSans.ttf", "NotoSans-Regular.ttf",
                                                    "LiberationSans-Regular.ttf", "FreeSans.ttf"};

std::filesystem::path font_below(const std::vector<std::filesystem::path>& folders) {
    std::array<std::filesystem::path, preferred.size()> found;
    for (const auto& folder : folders) {
        std::error_code error;
        const auto options = std::filesystem::directory_options::skip_permission_denied;
        auto entry = std::filesystem::recursive_directory_iterator(folder, options, error);
        for (; !error && entry != std::filesystem::recursive_directory_iterator(); entry.increment(error)) {
            const std::string name = entry->path().filename().string();
            const auto wanted = std::find(preferred.begin(), preferred.end(), name);
            if (wanted != preferred.end()) found[static_cast<std::size_t>(wanted - preferred.begin())] = entry->path();
        }
    }
    const auto first = std::find_if(found.begin(), found.end(), [](const auto& path) { return !path.empty(); });
    return first == found.end() ? std::filesystem::path{} : *first;
}

/// Code points of well-formed UTF-8.
std::vector<char32_t> points_of(std::string_view text) {
    const std::string utf8 = to_utf8(text);
    std::vector<char32_t> points;
    for (std::size_t i = 0; i < utf8.size();) {
        const auto lead = static_cast<unsigned char>(utf8[i]);
        const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
        char32_t point = length == 1 ? lead : lead & (0xFFU >> (length + 1));
        for (std::size_t k = 1; k < length && i + k < utf8.size(); ++k)
            point = point << 6U | (static_cast<unsigned char>(utf8[i + k]) & 0x3FU);
        points.push_back(point);
        i += length;
    }
    return points;
}

}  // namespace

struct Lettering::Face {
    FT_Library library = nullptr;
    FT_Face face = nullptr;
    Face() = default;
    Face(const Face&) = delete;
    Face& operator=(const Face&) = delete;
    ~Face() {
        if (face != nullptr) FT_Done_Face(face);
        if (library != nullptr) FT_Done_FreeType(library);
    }

    /// Calls `each(glyph slot, pen x)` for every character that can be loaded. @return where the pen ends
    template <class Each>
    int walk(std::string_view utf8, int size_px, const Each& each) {
        FT_Set_Pixel_Sizes(face, 0, static_cast<FT_UInt>(size_px));
        long pen = 0;  // 1/64 pixel
        for (const char32_t point : points_of(utf8)) {
            if (FT_Load_Char(face, point, FT_LOAD_RENDER) != 0) continue;
            each(*face->glyph, static_cast<int>((pen + 32) / 64));
            pen += face->glyph->advance.x;
        }
        return static_cast<int>((pen + 63) / 64);
    }
};

Lettering::Lettering(std::unique_ptr<Face> face) : face_(std::move(face)) {}
Lettering::Lettering(Lettering&&) noexcept = default;
Lettering& Lettering::operator=(Lettering&&) noexcept = default;
Lettering::~Lettering() = default;

std::optional<Lettering> Lettering::find(const std::vector<std::filesystem::path>& folders) {
    const auto file = font_below(folders);
    if (file.empty()) return std::nullopt;
    auto face = std::make_unique<Face>();
    if (FT_Init_FreeType(&face->library) != 0) return std::nullopt;
    if (FT_New_Face(face->library, file.c_str(), 0, &face->face) != 0) return std::nullopt;
    return Lettering{std::move(face)};
}

std::optional<Lettering> Lettering::find() {
    std::vector<std::filesystem::path> folders{"/usr/share/fonts", "/usr/local/share/fonts"};
    if (const char* home = std::getenv("HOME")) folders.push_back(std::filesystem::path(home) / ".local/share/fonts");
    return find(folders);
}

void Lettering::draw(std::string_view utf8, int size_px, int x, int baseline_y, const Ink& ink) const {
    face_->walk(utf8, size_px, [&](const FT_GlyphSlotRec_& glyph, int pen) {
        for (unsigned row = 0; row < glyph.bitmap.rows; ++row)
            for (unsigned column = 0; column < glyph.bitmap.width; ++column) {
                const auto coverage =
                    glyph.bitmap.buffer[static_cast<std::ptrdiff_t>(row) * glyph.bitmap.pitch + column];
                if (coverage > 0)
                    ink(x + pen + glyph.bitmap_left + static_cast<int>(column),
                        baseline_y - glyph.bitmap_top + static_cast<int>(row), coverage);
            }
    });
}

int Lettering::width(std::string_view utf8, int size_px) const {
    return face_->walk(utf8, size_px, [](const FT_GlyphSlotRec_&, int) {});
}

std::vector<std::string> Lettering::wrapped(std::string_view utf8, int size_px, int width_px) const {
    std::vector<std::string> lines;
    std::string line;
    for (std::size_t at = 0; at < utf8.size();) {
        const std::size_t end = std::min(utf8.find(' ', at), utf8.size());
        const std::string word{utf8.substr(at, end - at)};
        at = end + 1;
        const std::string longer = line.empty() ? word : line + " " + word;
        if (line.empty() || width(longer, size_px) <= width_px) {
            line = longer;
            continue;
        }
        lines.push_back(line);
        line = word;
    }
    if (!line.empty()) lines.push_back(line);
    return lines;
}

std::string Lettering::cut(std::string_view utf8, int size_px, int width_px) const {
    std::string line = to_utf8(utf8);
    if (width(line, size_px) <= width_px) return line;
    while (!line.empty()) {
        while (!line.empty() && (static_cast<unsigned char>(line.back()) & 0xC0U) == 0x80U) line.pop_back();
        if (!line.empty()) line.pop_back();
        if (width(line + "…", size_px) <= width_px) break;
    }
    return line + "…";
}

}  // namespace quarterturn::share
