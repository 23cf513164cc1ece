#include "fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quarterturn::sample {

Fields::Fields(const nlohmann::json& object, std::string place, std::optional<std::string>& error)
    : object_(object), place_(std::move(place)), error_(error) {
    if (!object.is_object() && !error_) error_ = fmt::format("{} must be an object in braces.", place_);
}

std::string Fields::place_of(const char* key) const {
    return place_.empty() ? key : place_ + "." + key;
}

void Fields::complain(const char* key, const std::string& what) {
    if (!error_) error_ = fmt::format("{} {}.", place_of(key), what);
}

const nlohmann::json* Fields::child(const char* key) {
    known_.insert(key);
    if (!object_.is_object()) return nullptr;
    const auto found = object_.find(key);
    return found == object_.end() ? nullptr : &*found;
}

bool Fields::has(const char* key) const {
    return object_.is_object() && object_.contains(key);
}

void Fields::need(const char* key) {
    if (!has(key)) complain(key, "is missing");
}

void Fields::number(const char* key, double low, double high, double& out) {
    const nlohmann::json* value = child(key);
    if (value == nullptr) return;
    if (!value->is_number() || !(value->get<double>() >= low && value->get<double>() <= high))
        return complain(key, fmt::format("must be a number from {} to {}", low, high));
    out = value->get<double>();
}

void Fields::number(const char* key, double low, double high, std::optional<double>& out) {
    if (child(key) == nullptr) return;
    double value = low;
    number(key, low, high, value);
    out = value;
}

void Fields::whole(const char* key, int low, int high, int& out) {
    const nlohmann::json* value = child(key);
    if (value == nullptr) return;
    const bool good = value->is_number_integer() && value->get<double>() >= low && value->get<double>() <= high;
    if (!good) return complain(key, fmt::format("must be a whole number from {} to {}", low, high));
    out = value->get<int>();
}

void Fields::flag(const char* key, bool& out) {
    const nlohmann::json* value = child(key);
    if (value == nullptr) return;
    if (!value->is_boolean()) return complain(key, "must be true or false");
    out = value->get<bool>();
}

void Fields::text(const char* key, std::string& out) {
    const nlohmann::json* value = child(key);
    if (value == nullptr) return;
    if (!value->is_string()) return complain(key, "must be text");
    out = value->get<std::string>();
}

bool Fields::choice(const char* key, const std::vector<std::string>& choices, std::size_t& out) {
    const nlohmann::json* value = child(key);
    if (value == nullptr) return false;
    const auto found =
        value->is_string() ? std::find(choices.begin(), choices.end(), value->get<std::string>()) : choices.end();
    if (found == choices.end()) {
        complain(key, fmt::format("must be one of: {}", fmt::join(choices, ", ")));
        return false;
    }
    out = static_cast<std::size_t>(found - choices.begin());
    return true;
}

void Fields::colour(const char* key, std::array<double, 3>& out) {
    std::string value;
    text(key, value);
    if (value.empty()) return;
    const bool good =
        value.size() == 7 && value[0] == '#' &&
        std::all_of(value.begin() + 1, value.end(), [](unsigned char c) { return std::isxdigit(c) != 0; });
    if (!good) return complain(key, "must be a colour such as \"#a0b1c2\"");
    for (std::size_t i = 0; i < 3; ++i) out[i] = std::stoi(value.substr(1 + 2 * i, 2), nullptr, 16) / 255.0;
}

void Fields::done() {
    if (!object_.is_object()) return;
    for (const auto& [key, value] : object_.items())
        if (!known_.contains(key)) complain(key.c_str(), "is not a field of this format");
}

}  // namespace quarterturn::sample
