#pragma once
/// Tables as comma-separated values (RFC 4180), UTF-8 without a byte-order mark. Spreadsheet programs run text that
/// looks like a formula, so such text is defused; numbers stay numbers.
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace quarterturn::share {

/// A number with the decimals it is written with, point as separator whatever the locale.
struct CsvNumber {
    double value = 0;
    int decimals = 0;
};

/// Nothing (an empty field), text, a number or a whole number.
using CsvCell = std::variant<std::monostate, std::string, CsvNumber, std::int64_t>;

/// A number that may be absent; one that is not finite counts as absent.
[[nodiscard]] CsvCell csv_number(std::optional<double> value, int decimals);

/// `text` as a field's content: begins with a single quote when a spreadsheet would take it for a formula, that is when
/// its first character (spaces passed over) is one of = + - @ TAB CR LF NUL, or = + - @ in their full-width forms.
[[nodiscard]] std::string defused(std::string_view text);

class CsvTable {
  public:
    explicit CsvTable(std::vector<std::string> header);
    /// As many cells as the header has: fewer are filled up with empty fields, more are a bug and are cut off.
    void add(std::vector<CsvCell> cells);
    /// Header and records, each ended by CRLF.
    [[nodiscard]] std::string text() const { return text_; }

  private:
    void write(const std::vector<CsvCell>& cells);
    std::size_t columns_;
    std::string text_;
};

}  // namespace quarterturn::share
