#pragma once
/// Strict reading of one JSON object: every field is asked for once, with its limits; what nobody asked for is an
/// error.
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <string>

namespace quarterturn::sample {

class Fields {
  public:
    /// `error` is shared by all objects of a document; the first complaint is kept.
    Fields(const nlohmann::json& object, std::string place, std::optional<std::string>& error);

    void number(const char* key, double low, double high, double& out);
    void number(const char* key, double low, double high, std::optional<double>& out);
    void whole(const char* key, int low, int high, int& out);
    void flag(const char* key, bool& out);
    void text(const char* key, std::string& out);
    /// One of `choices`; gives its rank. @return whether the key is there and good
    bool choice(const char* key, const std::vector<std::string>& choices, std::size_t& out);
    /// "#rrggbb"
    void colour(const char* key, std::array<double, 3>& out);
    /// The value, or null when it is not there.
    [[nodiscard]] const nlohmann::json* child(const char* key);
    [[nodiscard]] bool has(const char* key) const;
    void need(const char* key);
    void complain(const char* key, const std::string& what);
    /// Call last: complains about fields nobody asked for.
    void done();
    [[nodiscard]] std::string place_of(const char* key) const;

  private:
    const nlohmann::json& object_;
    std::string place_;
    std::optional<std::string>& error_;
    std::set<std::string> known_;
};

}  // namespace quarterturn::sample
