#pragma once
/// What every entry of a library has: who made it, when, and how often it was changed where.
///
/// Made for merging (docs/library_format.md): an entry is known by its id; of two versions the one whose edit counters
/// are all at least the other's is the newer; two versions of which neither is newer were written apart, and both are
/// kept. Taking an entry away is an edit too, so that it does not come back from another copy.
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "base/date.hpp"

namespace quarterturn::journal {

enum class Role {
    athlete,
    coach,
    program  ///< filled in by measuring
};

[[nodiscard]] std::string_view role_id(Role role);  ///< "athlete", "coach", "program"
[[nodiscard]] std::optional<Role> find_role(std::string_view id);

struct Author {
    std::string name;  ///< as the person writes it, any language; "" for the program
    Role role = Role::athlete;
    auto operator<=>(const Author&) const = default;
};

/// Edits by place: a library folder on one machine -> how many edits of this entry were made there, each >= 1.
using EditCounters = std::map<std::string, std::int64_t>;

enum class Order { same, older, newer, apart };
/// How `a` stands to `b`.
[[nodiscard]] Order compare_edits(const EditCounters& a, const EditCounters& b);

/// The common fields. A program sets those of its own entry type; the store fills in these.
struct Record {
    std::string id;  ///< base/id.hpp; a clip's is its fingerprint
    EditCounters edits;
    bool removed = false;
    Instant created{};
    Instant edited{};
    Author author;       ///< who made it
    Author editor;       ///< who changed it last
    std::string extras;  ///< fields this version does not know, JSON text of an object, kept as they are; else ""
    bool operator==(const Record&) const = default;
};

}  // namespace quarterturn::journal
