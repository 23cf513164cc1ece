#include "rules/json_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <vector>

namespace quarterturn::rules {
namespace {

/// Watches the parser for what the grammar allows and our documents do not.
class Watch {
  public:
    bool operator()(int depth, Json::parse_event_t event, const Json& parsed) {
        if (depth > deepest_json) problem_ = fmt::format("It is nested more than {} levels deep.", deepest_json);
        if (event == Json::parse_event_t::object_start) names_.emplace_back();
        if (event == Json::parse_event_t::object_end && !names_.empty()) names_.pop_back();
        if (event == Json::parse_event_t::key && problem_.empty()) note_name(parsed.get_ref<const std::string&>());
        return problem_.empty();  // nothing more is kept once something is wrong
    }
    [[nodiscard]] const std::string& problem() const { return problem_; }

  private:
    void note_name(const std::string& name) {
        if (names_.empty()) names_.emplace_back();
        if (!names_.back().insert(name).second)
            problem_ = fmt::format("The name \"{}\" comes twice in one object.", name);
    }
    std::vector<std::set<std::string>> names_;
    std::string problem_;
};

std::string place_of(std::string_view text, std::size_t byte) {
    const std::string_view before = text.substr(0, std::min(byte, text.size()));
    const auto line = std::count(before.begin(), before.end(), '\n') + 1;
    const auto start = before.rfind('\n');
    const std::size_t column = start == std::string_view::npos ? before.size() : before.size() - start - 1;
    return fmt::format("line {}, column {}", line, std::max<std::size_t>(column, 1));
}

void fill_in(OrderedJson& document, const OrderedJson& extras) {
    for (const auto& [name, value] : extras.items()) {
        if (!document.contains(name)) {
            document[name] = value;
        } else if (document[name].is_object() && value.is_object()) {
            fill_in(document[name], value);
        }
    }
}

}  // namespace

Result<Json> parse_json(std::string_view text) {
    Watch watch;
    // Only the throwing parser says where the text goes wrong; its exceptions end here.
    try {
        Json document = Json::parse(text, [&](int depth, Json::parse_event_t event, const Json& parsed) {
            return watch(depth, event, parsed);
        });
        if (!watch.problem().empty()) return Error{ErrorCode::bad_input, watch.problem()};
        return document;
    } catch (const Json::parse_error& error) {
        return Error{ErrorCode::bad_input,
                     fmt::format("It is not well-formed JSON at {}.", place_of(text, error.byte))};
    } catch (const Json::exception&) {
        return Error{ErrorCode::bad_input, "It holds a number that is too large."};
    }
}

std::string json_text(const OrderedJson& document) {
    return document.dump(2, ' ', false, OrderedJson::error_handler_t::replace) + "\n";
}

void add_extras(OrderedJson& document, std::string_view extras) {
    if (extras.empty()) return;
    const OrderedJson more = OrderedJson::parse(extras, nullptr, false);
    if (more.is_object() && document.is_object()) fill_in(document, more);
}

}  // namespace quarterturn::rules
