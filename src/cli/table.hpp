#pragma once
/// A plain text table for a terminal: columns as wide as their widest cell (in code points), two spaces apart.
#include <string>
#include <vector>

namespace quarterturn::cli {

struct Table {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows;  ///< each as long as `head`
    std::vector<bool> right;                     ///< columns aligned to the right (numbers); missing entries: left
};

[[nodiscard]] std::string format_table(const Table& table);

}  // namespace quarterturn::cli
