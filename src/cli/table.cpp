#include "cli/table.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace quarterturn::cli {
namespace {

std::string format_row(const std::vector<std::string>& cells, const std::vector<std::size_t>& widths,
                       const std::vector<bool>& right) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const std::string space(widths[i] - code_points(cells[i]), ' ');
        const bool to_right = i < right.size() && right[i];
        line += to_right ? space + cells[i] : cells[i] + space;
        line += "  ";
    }
    line.erase(line.find_last_not_of(' ') + 1);
    return line + "\n";
}

}  // namespace

std::string format_table(const Table& table) {
    std::vector<std::size_t> widths;
    for (const auto& cell : table.head) widths.push_back(code_points(cell));
    for (const auto& row : table.rows) {
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], code_points(row[i]));
    }
    std::vector<std::string> rule;
    for (const std::size_t width : widths) rule.emplace_back(width, '-');
    std::string text = format_row(table.head, widths, table.right) + format_row(rule, widths, {});
    for (const auto& row : table.rows) text += format_row(row, widths, table.right);
    return text;
}

}  // namespace quarterturn::cli
