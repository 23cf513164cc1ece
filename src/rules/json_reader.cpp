#include "rules/json_reader.hpp"

#include <fmt/format.h>

#include <cmath>

namespace quarterturn::rules {
namespace {

const Json& nothing() {
    static const Json null;
    return null;
}

}  // namespace

bool is_identifier(std::string_view text) {
    return !text.empty() && text.size() <= 64 && text.front() >= 'a' && text.front() <= 'z' &&
           text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_") == std::string_view::npos;
}

JsonReader::JsonReader(const Json& document, std::string place)
    : JsonReader(document, std::move(place), std::make_shared<Shared>()) {}

JsonReader::JsonReader(const Json& document, std::string place, std::shared_ptr<Shared> shared)
    : document_(&document), place_(std::move(place)), shared_(std::move(shared)) {
    if (!document.is_object()) wrong("", "must be an object in braces");
}

std::string JsonReader::place(const std::string& name) const {
    if (name.empty()) return place_.empty() ? "the document" : place_;
    return place_.empty() ? name : place_ + "." + name;
}

void JsonReader::wrong(const std::string& name, std::string_view what) {
    if (fine()) shared_->problem = fmt::format("{}: {}", place(name), what);
}

const Json* JsonReader::find(const std::string& name) {
    asked_->names.insert(name);
    if (!document_->is_object()) return nullptr;
    const auto found = document_->find(name);
    return found == document_->end() || found->is_null() ? nullptr : &*found;
}

const Json* JsonReader::need(const std::string& name, std::string_view what) {
    const Json* value = find(name);
    if (value == nullptr) wrong(name, fmt::format("is missing; it must be {}", what));
    return value;
}

bool JsonReader::has(const std::string& name) {
    return find(name) != nullptr;
}

std::optional<std::string> JsonReader::optional_text(const std::string& name) {
    const Json* value = find(name);
    if (value == nullptr) return std::nullopt;
    if (value->is_string()) return value->get<std::string>();
    wrong(name, "must be text");
    return std::nullopt;
}

std::string JsonReader::text(const std::string& name) {
    if (need(name, "text") == nullptr) return {};
    return optional_text(name).value_or("");
}

std::string JsonReader::text_or(const std::string& name, std::string fallback) {
    return optional_text(name).value_or(std::move(fallback));
}

std::optional<double> JsonReader::optional_number(const std::string& name) {
    const Json* value = find(name);
    if (value == nullptr) return std::nullopt;
    if (value->is_number() && std::isfinite(value->get<double>())) return value->get<double>();
    wrong(name, "must be a number");
    return std::nullopt;
}

double JsonReader::number(const std::string& name) {
    if (need(name, "a number") == nullptr) return 0;
    return optional_number(name).value_or(0);
}

double JsonReader::number_or(const std::string& name, double fallback) {
    return optional_number(name).value_or(fallback);
}

std::optional<std::int64_t> JsonReader::optional_tick(const std::string& name) {
    const Json* value = find(name);
    if (value == nullptr) return std::nullopt;
    // A positive number beyond int64 arrives as unsigned and would wrap.
    const bool too_large =
        value->is_number_unsigned() &&
        value->get<std::uint64_t>() > static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max());
    if (value->is_number_integer() && !too_large) return value->get<std::int64_t>();
    wrong(name, "must be a whole number");
    return std::nullopt;
}

std::int64_t JsonReader::tick(const std::string& name) {
    if (need(name, "a whole number") == nullptr) return 0;
    return optional_tick(name).value_or(0);
}

std::int64_t JsonReader::integer(const std::string& name, std::int64_t least) {
    const std::int64_t value = tick(name);
    if (value < least) wrong(name, fmt::format("must be at least {}", least));
    if (value > largest_json_integer) wrong(name, "is too large");
    return value;
}

bool JsonReader::flag_or(const std::string& name, bool fallback) {
    const Json* value = find(name);
    if (value == nullptr) return fallback;
    if (!value->is_boolean()) wrong(name, "must be true or false");
    return value->is_boolean() ? value->get<bool>() : fallback;
}

std::optional<Date> JsonReader::optional_date(const std::string& name) {
    const auto written = optional_text(name);
    if (!written) return std::nullopt;
    if (const auto date = parse_date(*written)) return *date;
    wrong(name, "must be a date such as 2026-05-03");
    return std::nullopt;
}

Date JsonReader::date(const std::string& name) {
    if (need(name, "a date such as 2026-05-03") == nullptr) return {};
    return optional_date(name).value_or(Date{});
}

std::optional<Instant> JsonReader::optional_instant(const std::string& name) {
    const auto written = optional_text(name);
    if (!written) return std::nullopt;
    if (const auto instant = parse_instant(*written)) return *instant;
    wrong(name, "must be a time such as 2026-05-03T09:15:00Z");
    return std::nullopt;
}

Instant JsonReader::instant(const std::string& name) {
    if (need(name, "a time such as 2026-05-03T09:15:00Z") == nullptr) return {};
    return optional_instant(name).value_or(Instant{});
}

std::string JsonReader::identifier(const std::string& name) {
    std::string found = text(name);
    if (!is_identifier(found)) wrong(name, "must be lower-case letters, digits and _, starting with a letter");
    return found;
}

JsonReader JsonReader::object(const std::string& name) {
    const Json* value = need(name, "an object in braces");
    JsonReader nested{value == nullptr ? nothing() : *value, place(name), shared_};
    asked_->nested.emplace_back(name, nested.asked_);
    return nested;
}

std::vector<JsonReader> JsonReader::objects(const std::string& name) {
    std::vector<JsonReader> readers;
    const Json* list = find(name);
    if (list == nullptr) return readers;
    if (!list->is_array()) {
        wrong(name, "must be a list in brackets");
        return readers;
    }
    for (std::size_t i = 0; i < list->size(); ++i)
        readers.push_back(JsonReader{(*list)[i], fmt::format("{}[{}]", place(name), i), shared_});
    return readers;
}

std::vector<std::string> JsonReader::texts(const std::string& name) {
    std::vector<std::string> found;
    const Json* list = find(name);
    if (list == nullptr) return found;
    if (!list->is_array()) wrong(name, "must be a list in brackets");
    for (std::size_t i = 0; list->is_array() && i < list->size(); ++i) {
        if ((*list)[i].is_string())
            found.push_back((*list)[i].get<std::string>());
        else
            wrong(fmt::format("{}[{}]", name, i), "must be text");
    }
    return found;
}

const Json& JsonReader::raw(const std::string& name) {
    const Json* value = find(name);
    return value == nullptr ? nothing() : *value;
}

std::vector<std::string> JsonReader::names() {
    std::vector<std::string> found;
    if (!document_->is_object()) return found;
    for (const auto& [name, value] : document_->items()) found.push_back(name);
    return found;
}

Json JsonReader::unknown(const Json& document, const Asked& asked) {
    Json rest = Json::object();
    if (!document.is_object()) return rest;
    for (const auto& [name, value] : document.items()) {
        if (!asked.names.contains(name)) rest[name] = value;
    }
    for (const auto& [name, nested] : asked.nested) {
        if (!document.contains(name)) continue;
        if (Json below = unknown(document.at(name), *nested); !below.empty()) rest[name] = std::move(below);
    }
    return rest;
}

std::string JsonReader::extras() const {
    const Json rest = unknown(*document_, *asked_);
    return rest.empty() ? std::string{} : rest.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace quarterturn::rules
