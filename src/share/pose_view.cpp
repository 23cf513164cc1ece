#include "share/pose_view.hpp"

#include <algorithm>

#include "rules/measured_mark.hpp"
#include "rules/pose.hpp"

namespace quarterturn::share {
namespace {

using journal::Mark;
using journal::Role;
using posing::Check;

std::string title_of(const rules::RuleSet& rule_set, const std::string& pose) {
    if (const rules::PoseExpectation* expected = rule_set.find_pose(pose); expected != nullptr) return expected->title;
    if (const rules::Pose* known = rules::find_pose(pose); known != nullptr) return std::string{known->title};
    return pose;
}

PoseView empty_pose(const rules::RuleSet& rule_set, const std::string& pose) {
    PoseView view;
    view.pose = pose;
    view.title = title_of(rule_set, pose);
    view.calls = static_cast<int>(std::count(rule_set.call_order.begin(), rule_set.call_order.end(), pose));
    if (const rules::Pose* known = rules::find_pose(pose); known != nullptr) view.facing_deg = known->facing_deg;
    if (const rules::PoseExpectation* expected = rule_set.find_pose(pose); expected != nullptr)
        view.target_hold_s = expected->target_hold_s;
    return view;
}

void place_holds(SessionView& view) {
    for (std::size_t c = 0; c < view.clips.size(); ++c) {
        if (!view.clips[c].clip.counts) continue;
        for (std::size_t s = 0; s < view.clips[c].segments.size(); ++s) {
            const SegmentView& segment = view.clips[c].segments[s];
            if (!segment.is_hold()) continue;
            if (!segment.now.pose) {
                view.unnamed.push_back({c, s});
                continue;
            }
            auto pose = std::find_if(view.poses.begin(), view.poses.end(),
                                     [&](const PoseView& known) { return known.pose == *segment.now.pose; });
            if (pose == view.poses.end()) {
                view.poses.push_back(empty_pose(view.rule_set, *segment.now.pose));
                pose = std::prev(view.poses.end());
            }
            pose->holds.push_back({c, s});
        }
    }
}

void choose_holds(const SessionView& view, PoseView& pose) {
    for (const HoldPlace& place : pose.holds) {
        const posing::Segment& hold = view.hold(place).now;
        if (!pose.longest || hold.duration_s() > view.hold(*pose.longest).now.duration_s()) pose.longest = place;
        if (!hold.stillness.value) continue;
        if (!pose.steadiest || *hold.stillness.value < *view.hold(*pose.steadiest).now.stillness.value)
            pose.steadiest = place;
    }
    if (!pose.steadiest) pose.steadiest = pose.longest;
}

const Check* find_check(const posing::Segment& segment, const std::string& item) {
    const auto found = std::find_if(segment.checks.begin(), segment.checks.end(),
                                    [&](const Check& check) { return check.item == item; });
    return found == segment.checks.end() ? nullptr : &*found;
}

/// The length of a hold is known whatever else is: also when a person set its bounds.
Check length_check(const posing::Segment& hold, const rules::Limit& limit) {
    Check check;
    check.item = "hold_length";
    check.value.value = hold.duration_s();
    check.unit = "s";
    check.limit = limit.value;
    check.met = rules::is_met(hold.duration_s(), limit);
    check.confidence = hold.confidence;
    return check;
}

std::optional<Check> check_of(const SessionView& view, const PoseView& pose, const ItemView& item) {
    if (!pose.longest || !item.item.measured) return std::nullopt;
    const std::vector<SegmentView>& segments = view.clips[pose.longest->clip].segments;
    const std::size_t at = pose.longest->segment;
    if (item.item.id == "hold_length" && item.limit) return length_check(segments[at].now, *item.limit);
    const Check* found = find_check(segments[at].now, item.item.id);
    if (found == nullptr && at > 0 && !segments[at - 1].is_hold())
        found = find_check(segments[at - 1].now, item.item.id);  // steps and turns belong to the way into the pose
    if (found == nullptr) return std::nullopt;
    Check check = *found;
    if (item.limit) check.limit = item.limit->value;  // the season's choices may differ from the analysis' rule set
    check.met.reset();
    if (check.value.value && item.limit) check.met = rules::is_met(*check.value.value, *item.limit);
    return check;
}

void add_items(const rules::PoseExpectation& expected, const SessionView& view, PoseView& pose) {
    for (const rules::ChecklistItem& item : expected.items) {
        ItemView line;
        line.item = item;
        line.limit = rules::limit_of(expected, item);
        line.check = check_of(view, pose, line);
        pose.items.push_back(std::move(line));
    }
}

/// The session's marks with the program's brought up to date: a value measured now replaces one kept earlier.
std::vector<Mark> marks_with_measured(const journal::Library& library, const SessionView& view) {
    std::vector<Mark> marks = measured_marks(view);
    const std::size_t fresh = marks.size();
    for (const Mark& mark : library.marks) {
        if (mark.session != view.session.id) continue;
        const bool replaced = mark.author.role == Role::program &&
                              std::any_of(marks.begin(), marks.begin() + static_cast<std::ptrdiff_t>(fresh),
                                          [&](const Mark& m) { return m.pose == mark.pose && m.item == mark.item; });
        if (!replaced) marks.push_back(mark);
    }
    return marks;
}

std::optional<Mark> own_mark(const std::vector<Mark>& marks, const SessionView& view, const PoseView& pose,
                             const std::string& item, Role role) {
    const Mark* found = journal::mark_that_holds(marks, view.session.id, pose.pose, item, role);
    if (found == nullptr || found->author.role != role) return std::nullopt;
    return *found;
}

void add_marks(const rules::PoseExpectation& expected, const std::vector<Mark>& marks, const SessionView& view,
               PoseView& pose) {
    for (ItemView& line : pose.items) {
        line.athlete = own_mark(marks, view, pose, line.item.id, Role::athlete);
        line.coach = own_mark(marks, view, pose, line.item.id, Role::coach);
        line.program = own_mark(marks, view, pose, line.item.id, Role::program);
        pose.athlete.own += line.athlete ? 1 : 0;
        pose.coach.own += line.coach ? 1 : 0;
        pose.program.own += line.program ? 1 : 0;
    }
    pose.athlete.score = journal::pose_score(expected, marks, view.session.id, Role::athlete);
    pose.coach.score = journal::pose_score(expected, marks, view.session.id, Role::coach);
    pose.program.score = journal::pose_score(expected, marks, view.session.id, Role::program);
}

void add_session_scores(const std::vector<Mark>& marks, SessionView& view) {
    for (const PoseView& pose : view.poses) {
        if (pose.calls == 0) continue;
        view.athlete.own += pose.athlete.own;
        view.coach.own += pose.coach.own;
        view.program.own += pose.program.own;
    }
    view.athlete.score = journal::session_score(view.rule_set, marks, view.session.id, Role::athlete);
    view.coach.score = journal::session_score(view.rule_set, marks, view.session.id, Role::coach);
    view.program.score = journal::session_score(view.rule_set, marks, view.session.id, Role::program);
}

}  // namespace

void add_poses(const journal::Library& library, SessionView& view) {
    for (const rules::PoseExpectation* called : view.rule_set.called())
        view.poses.push_back(empty_pose(view.rule_set, called->pose));
    place_holds(view);
    for (PoseView& pose : view.poses) {
        choose_holds(view, pose);
        if (const rules::PoseExpectation* expected = view.rule_set.find_pose(pose.pose); expected != nullptr)
            add_items(*expected, view, pose);
    }
    const std::vector<Mark> marks = marks_with_measured(library, view);
    for (PoseView& pose : view.poses) {
        if (const rules::PoseExpectation* expected = view.rule_set.find_pose(pose.pose); expected != nullptr)
            add_marks(*expected, marks, view, pose);
    }
    add_session_scores(marks, view);
}

std::vector<Mark> measured_marks(const SessionView& view) {
    std::vector<Mark> marks;
    for (const PoseView& pose : view.poses) {
        for (const ItemView& line : pose.items) {
            if (!line.limit || !line.check || !line.check->value.value || !pose.longest) continue;
            Mark mark;
            mark.session = view.session.id;
            mark.pose = pose.pose;
            mark.item = line.item.id;
            mark.author = {.name = "", .role = Role::program};
            mark.value = rules::mark_for(*line.check->value.value, *line.limit);
            mark.measured = line.check->value.value;
            mark.unit = line.limit->unit;
            mark.clip = view.clips[pose.longest->clip].clip.fingerprint();
            marks.push_back(std::move(mark));
        }
    }
    return marks;
}

}  // namespace quarterturn::share
