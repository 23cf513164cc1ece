#pragma once
/// Reads a JSON object field by field, knows its place in the document for errors, and remembers which fields nobody
/// asked for. For .cpp files. The first problem is kept; reads after it give empty values, so that a whole document is
/// read without a branch at each field and problem() is asked once at the end.
#include <cstdint>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.hpp"
#include "rules/json_text.hpp"

namespace quarterturn::rules {

/// Safe in every JSON reader (RFC 8259, section 6).
inline constexpr std::int64_t largest_json_integer = 9007199254740991;

class JsonReader {
  public:
    /// `document` must outlive the reader. `place` is "" for the whole document.
    explicit JsonReader(const Json& document, std::string place = {});

    [[nodiscard]] bool has(const std::string& name);  ///< present and not null

    [[nodiscard]] std::string text(const std::string& name);
    [[nodiscard]] std::string text_or(const std::string& name, std::string fallback);
    [[nodiscard]] std::optional<std::string> optional_text(const std::string& name);
    [[nodiscard]] double number(const std::string& name);
    [[nodiscard]] double number_or(const std::string& name, double fallback);
    [[nodiscard]] std::optional<double> optional_number(const std::string& name);
    [[nodiscard]] std::int64_t integer(const std::string& name, std::int64_t least = -largest_json_integer);
    /// Any int64, also beyond what other JSON readers keep exactly: presentation times need it.
    [[nodiscard]] std::int64_t tick(const std::string& name);
    [[nodiscard]] std::optional<std::int64_t> optional_tick(const std::string& name);
    [[nodiscard]] bool flag_or(const std::string& name, bool fallback);
    [[nodiscard]] Date date(const std::string& name);
    [[nodiscard]] std::optional<Date> optional_date(const std::string& name);
    [[nodiscard]] Instant instant(const std::string& name);
    [[nodiscard]] std::optional<Instant> optional_instant(const std::string& name);
    [[nodiscard]] std::string identifier(const std::string& name);  ///< lower-case letters, digits, _ ; 1 to 64

    /// A nested object; its unknown fields are part of this reader's extras(). Required.
    [[nodiscard]] JsonReader object(const std::string& name);
    /// The objects of a list; [] when absent. Their extras are their own.
    [[nodiscard]] std::vector<JsonReader> objects(const std::string& name);
    [[nodiscard]] std::vector<std::string> texts(const std::string& name);
    [[nodiscard]] const Json& raw(const std::string& name);  ///< null when absent

    /// Names of a nested object's fields, in order. The object itself counts as known.
    [[nodiscard]] std::vector<std::string> names();

    /// Says that something at a field (or, "", at the object) is wrong: "must be a number above 0".
    void wrong(const std::string& name, std::string_view what);

    /// One of a fixed list of words.
    template <class Enum, class FromWord>
    [[nodiscard]] Enum word(const std::string& name, FromWord from_word, std::string_view allowed) {
        const std::string found = text(name);
        if (const std::optional<Enum> value = from_word(found)) return *value;
        wrong(name, "must be one of " + std::string{allowed});
        return Enum{};
    }

    [[nodiscard]] bool fine() const { return shared_->problem.empty(); }
    [[nodiscard]] Error problem() const { return {ErrorCode::bad_input, shared_->problem}; }
    [[nodiscard]] std::string place(const std::string& name) const;

    /// The fields nobody asked for, as JSON text of an object; empty when there are none.
    [[nodiscard]] std::string extras() const;

  private:
    struct Shared {
        std::string problem;
    };
    /// What was asked for at one level; a list so that a nested reader outlives moves of its parent.
    struct Asked {
        std::set<std::string> names;
        std::vector<std::pair<std::string, std::shared_ptr<Asked>>> nested;
    };
    JsonReader(const Json& document, std::string place, std::shared_ptr<Shared> shared);
    [[nodiscard]] const Json* find(const std::string& name);
    [[nodiscard]] const Json* need(const std::string& name, std::string_view what);
    [[nodiscard]] static Json unknown(const Json& document, const Asked& asked);

    const Json* document_;
    std::string place_;
    std::shared_ptr<Shared> shared_;
    std::shared_ptr<Asked> asked_ = std::make_shared<Asked>();
};

/// Lower-case ASCII letters, digits and _, starting with a letter, 1 to 64 characters: ids of rule sets, poses, items.
[[nodiscard]] bool is_identifier(std::string_view text);

}  // namespace quarterturn::rules
