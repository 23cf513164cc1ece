#include "share/csv.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "base/text.hpp"

namespace quarterturn::share {
namespace {

bool starts_a_formula(std::string_view text) {
    constexpr std::string_view single{"=+-@\t\r\n\0", 8};
    // U+FF1D, U+FF0B, U+FF0D, U+FF20: some programs read them like their narrow forms
    constexpr std::array<std::string_view, 4> wide{"\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
    if (text.empty()) return false;
    if (single.find(text.front()) != std::string_view::npos) return true;
    for (const std::string_view sign : wide) {
        if (text.starts_with(sign)) return true;
    }
    return false;
}

std::string quoted(std::string_view content) {
    if (content.find_first_of(",\"\r\n") == std::string_view::npos) return std::string{content};
    std::string out = "\"";
    for (const char c : content) {
        if (c == '"') out += '"';
        out += c;
    }
    return out += '"';
}

std::string field(const CsvCell& cell) {
    if (const auto* text = std::get_if<std::string>(&cell)) return quoted(defused(*text));
    if (const auto* whole = std::get_if<std::int64_t>(&cell)) return fmt::format("{}", *whole);
    const auto* number = std::get_if<CsvNumber>(&cell);
    if (number == nullptr || !std::isfinite(number->value)) return {};
    const std::string written = fmt::format("{:.{}f}", number->value, number->decimals);
    const bool zero = written.find_first_not_of("-0.") == std::string::npos;
    return zero && written.front() == '-' ? written.substr(1) : written;  // never "-0.0"
}

}  // namespace

CsvCell csv_number(std::optional<double> value, int decimals) {
    if (!value || !std::isfinite(*value)) return std::monostate{};
    return CsvNumber{*value, decimals};
}

std::string defused(std::string_view text) {
    const std::size_t first = text.find_first_not_of(' ');
    std::string out;
    if (first != std::string_view::npos && starts_a_formula(text.substr(first))) out = "'";
    for (const char c : text) {
        if (c == '\0') {
            out += "\xEF\xBF\xBD";  // many readers end a field at NUL
        } else {
            out += c;
        }
    }
    return to_utf8(out);
}

CsvTable::CsvTable(std::vector<std::string> header) : columns_(header.size()) {
    write({header.begin(), header.end()});
}

void CsvTable::add(std::vector<CsvCell> cells) {
    cells.resize(columns_);
    write(cells);
}

void CsvTable::write(const std::vector<CsvCell>& cells) {
    bool first = true;
    for (const CsvCell& cell : cells) {
        if (!first) text_ += ',';
        first = false;
        text_ += field(cell);
    }
    text_ += "\r\n";
}

}  // namespace quarterturn::share
