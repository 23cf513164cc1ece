#include "posing/json_layout.hpp"

#include <algorithm>

namespace quarterturn::posing {
namespace {

using Json = nlohmann::ordered_json;

void append_line(std::string& out, std::size_t depth) {
    out += '\n';
    out.append(2 * depth, ' ');
}

void append(std::string& out, const Json& value, std::size_t depth);

void append_object(std::string& out, const Json& object, std::size_t depth) {
    out += '{';
    bool first = true;
    for (const auto& [name, member] : object.items()) {
        if (!first) out += ',';
        first = false;
        append_line(out, depth + 1);
        out += Json(name).dump() + ": ";
        append(out, member, depth + 1);
    }
    append_line(out, depth);
    out += '}';
}

void append_list(std::string& out, const Json& list, std::size_t depth) {
    const bool plain = std::none_of(list.begin(), list.end(), [](const Json& entry) { return entry.is_structured(); });
    out += '[';
    bool first = true;
    for (const Json& entry : list) {
        if (!first) out += plain ? ", " : ",";
        first = false;
        if (!plain) append_line(out, depth + 1);
        append(out, entry, depth + 1);
    }
    if (!plain) append_line(out, depth);
    out += ']';
}

void append(std::string& out, const Json& value, std::size_t depth) {
    if (value.is_object() && !value.empty()) {
        append_object(out, value, depth);
    } else if (value.is_array()) {
        append_list(out, value, depth);
    } else {
        out += value.dump(-1, ' ', false, Json::error_handler_t::replace);
    }
}

}  // namespace

std::string lay_out(const nlohmann::ordered_json& document) {
    std::string out;
    append(out, document, 0);
    out += '\n';
    return out;
}

}  // namespace quarterturn::posing
