#pragma once
/// Checklist marks summed up.
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "journal/mark.hpp"
#include "rules/rule_set.hpp"

namespace quarterturn::journal {

struct Score {
    std::optional<double> percent;  ///< weighted mean of the marks over 4, times 100; absent when nothing is marked
    int marked = 0;                 ///< items with a mark
    int items = 0;                  ///< items on the checklist
};

/// The mark that holds for an item in the eyes of `role`: the latest own mark of an author with this role, else the
/// program's; nullptr when there is none. For Role::program only its own.
[[nodiscard]] const Mark* mark_that_holds(std::span<const Mark> marks, std::string_view session, std::string_view pose,
                                          std::string_view item, Role role);

/// One pose of one session.
[[nodiscard]] Score pose_score(const rules::PoseExpectation& pose, std::span<const Mark> marks,
                               std::string_view session, Role role);

/// All called poses of one session: the weighted mean over all their items.
[[nodiscard]] Score session_score(const rules::RuleSet& rule_set, std::span<const Mark> marks, std::string_view session,
                                  Role role);

}  // namespace quarterturn::journal
