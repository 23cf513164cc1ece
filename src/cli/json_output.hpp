#pragma once
/// What commands print with --json: one document, indented, UTF-8.
#include <cstdio>
#include <nlohmann/json.hpp>
#include <optional>

namespace quarterturn::cli {

using Json = nlohmann::ordered_json;

template <class T>
Json or_null(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

inline void print_json(const Json& document) {
    const std::string text = document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
    std::fwrite(text.data(), 1, text.size(), stdout);
}

}  // namespace quarterturn::cli
