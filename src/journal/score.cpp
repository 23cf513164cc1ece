#include "journal/score.hpp"

#include <tuple>

namespace quarterturn::journal {
namespace {

/// Sums up weights as items are counted.
class Sum {
  public:
    void add(const rules::ChecklistItem& item, const Mark* mark) {
        ++score_.items;
        if (mark == nullptr) return;
        ++score_.marked;
        weights_ += item.weight;
        points_ += item.weight * *mark->value / 4.0;
    }
    void add_pose(const rules::PoseExpectation& pose, std::span<const Mark> marks, std::string_view session,
                  Role role) {
        for (const rules::ChecklistItem& item : pose.items)
            add(item, mark_that_holds(marks, session, pose.pose, item.id, role));
    }
    [[nodiscard]] Score score() const {
        Score result = score_;
        if (weights_ > 0) result.percent = 100 * points_ / weights_;
        return result;
    }

  private:
    Score score_;
    double weights_ = 0, points_ = 0;
};

bool is_later(const Mark& a, const Mark& b) {
    return std::tie(a.edited, a.edits, a.author) > std::tie(b.edited, b.edits, b.author);
}

}  // namespace

const Mark* mark_that_holds(std::span<const Mark> marks, std::string_view session, std::string_view pose,
                            std::string_view item, Role role) {
    const Mark* own = nullptr;
    const Mark* measured = nullptr;
    for (const Mark& mark : marks) {
        if (!mark.value || mark.session != session || mark.pose != pose || mark.item != item) continue;
        const Mark*& kept = mark.author.role == role ? own : measured;
        const bool counts = mark.author.role == role || mark.author.role == Role::program;
        if (counts && (kept == nullptr || is_later(mark, *kept))) kept = &mark;
    }
    return own != nullptr ? own : measured;
}

Score pose_score(const rules::PoseExpectation& pose, std::span<const Mark> marks, std::string_view session, Role role) {
    Sum sum;
    sum.add_pose(pose, marks, session, role);
    return sum.score();
}

Score session_score(const rules::RuleSet& rule_set, std::span<const Mark> marks, std::string_view session, Role role) {
    Sum sum;
    for (const rules::PoseExpectation* pose : rule_set.called()) sum.add_pose(*pose, marks, session, role);
    return sum.score();
}

}  // namespace quarterturn::journal
