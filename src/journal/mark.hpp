#pragma once
/// Marks on checklist items.
#include <optional>
#include <string>

#include "journal/record.hpp"

namespace quarterturn::journal {

/// A mark is known by (session, pose, item, author). The program's and a person's stand beside each other: overruling
/// is giving one's own.
struct Mark {
    std::string session;
    std::string pose;
    std::string item;
    Author author;
    std::optional<int> value;        ///< 0..4; absent: taken back
    std::optional<double> measured;  ///< what the program measured, in `unit`
    std::string unit;
    std::optional<std::string> clip;  ///< fingerprint of the take it was given on
    std::int64_t edits = 0;           ///< how often it was changed; the store counts
    Instant edited{};
    std::string extras;
    bool operator==(const Mark&) const = default;
};

}  // namespace quarterturn::journal
