#pragma once
/// What a division asks for: poses in call order, a checklist for each, time limits, and named settings where
/// federations differ. Plain data; see rule_set_json.hpp for files and rule_sets.hpp for the ones that come along.
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace quarterturn::rules {

enum class Comparison { at_most, at_least };

struct Limit {
    Comparison comparison = Comparison::at_most;
    double value = 0;
    std::string unit;  ///< "deg", "cm", "s", "steps", "body heights/s"
    bool operator==(const Limit&) const = default;
};

/// One line of a checklist.
struct ChecklistItem {
    std::string id;         ///< the measured ones carry the ids that analysis reports in `checks` (measured_items())
    std::string text;       ///< shown to people
    double weight = 1;      ///< > 0
    bool measured = false;  ///< filled in by the program (a person can overrule it); else judged by eye
    std::optional<Limit> limit;  ///< of a measured item; hold_length has none: its limit is the pose's target
    bool published = false;      ///< the limit or, without one, the expectation stands in a published rule
    std::string source;          ///< where; never shown on a screen. "common practice" otherwise
    std::string extras;          ///< fields of the file this version does not know, JSON text
    bool operator==(const ChecklistItem&) const = default;
};

enum class Side { none, left, right, either };  ///< side to the judges; none: the pose has no side

struct PoseExpectation {
    std::string pose;   ///< id, usually from the catalogue (pose.hpp)
    std::string title;  ///< the catalogue's, unless the file gives another
    Side side = Side::none;
    double target_hold_s = 8;  ///< a goal the person sets (advice varies widely), never "the standard"
    std::vector<ChecklistItem> items;
    std::string extras;
    [[nodiscard]] const ChecklistItem* find_item(std::string_view id) const;
    bool operator==(const PoseExpectation&) const = default;
};

/// A time limit of a part of the show, in seconds at most.
struct RoundLimit {
    std::string id;  ///< "walk", "walk_stop" (each stop on the walk), "routine", "one_mandatory_round", "posedown"
    std::string title;
    double seconds = 0;
    bool published = false;
    std::string source;
    std::string extras;
    bool operator==(const RoundLimit&) const = default;
};

/// One way of doing it, where federations differ. Only what it names is changed.
struct Choice {
    std::string id;
    std::string title;
    std::vector<std::string> call_order;            ///< empty: unchanged
    std::vector<RoundLimit> round_limits;           ///< replace those with the same id
    std::map<std::string, double> item_limits;      ///< item id -> limit value, in every pose that has a limit there
    std::map<std::string, std::string> item_texts;  ///< item id -> text
    std::optional<int> judges_dropped;              ///< see RuleSet::judges_dropped
    std::string source;
    std::string extras;
    bool operator==(const Choice&) const = default;
};

struct Setting {
    std::string id;
    std::string title;
    std::string chosen;  ///< id of a choice; a file's "default" until with_choice changes it
    std::vector<Choice> choices;
    std::string extras;
    [[nodiscard]] const Choice* find_choice(std::string_view choice) const;
    bool operator==(const Setting&) const = default;
};

struct RuleSet {
    std::string id;                       ///< e.g. "womens_figure"
    std::string title;                    ///< e.g. "Women's figure"
    std::string division;                 ///< id of one of the eight divisions, or a name of the person's own
    std::vector<PoseExpectation> poses;   ///< every pose this set knows, each once; also those only a choice calls
    std::vector<std::string> call_order;  ///< pose ids as called; a pose may come twice (back to the front at the end)
    std::vector<RoundLimit> round_limits;
    int judges_dropped = 0;  ///< places dropped at each end before a panel's places are added (placing.hpp)
    std::vector<Setting> settings;
    std::vector<std::string> sources;  ///< published texts it was made from; for files and documentation only
    std::string extras;

    [[nodiscard]] const PoseExpectation* find_pose(std::string_view pose) const;
    [[nodiscard]] const RoundLimit* find_round_limit(std::string_view limit) const;
    [[nodiscard]] const Setting* find_setting(std::string_view setting) const;
    /// The poses of `call_order`, each once, in the order of their first call.
    [[nodiscard]] std::vector<const PoseExpectation*> called() const;
    bool operator==(const RuleSet&) const = default;
};

/// Ids of the checklist items the program measures, as analysis reports them in `checks`.
[[nodiscard]] const std::vector<std::string>& measured_items();

}  // namespace quarterturn::rules
