#include "rules/pose.hpp"

#include <array>

namespace quarterturn::rules {
namespace {

constexpr std::array standing{Topic::feet, Topic::hands, Topic::face};
constexpr std::array from_the_side{Topic::twist_versus_sway, Topic::feet, Topic::hands};
constexpr std::array from_behind{Topic::feet, Topic::hands, Topic::conditioning};
constexpr std::array arms_raised{Topic::hands, Topic::twist_versus_sway, Topic::face};
constexpr std::array shown{Topic::transition, Topic::hands, Topic::face};

constexpr auto turn = PoseFamily::quarter_turn;
constexpr auto mandatory = PoseFamily::mandatory;

constexpr std::array<Pose, 15> all{{
    {"quarter_front", "Front to the judges", turn, 0, false, standing},
    {"quarter_left_side", "Left side to the judges", turn, 90, false, from_the_side},
    {"quarter_back", "Back to the judges", turn, 180, false, from_behind},
    {"quarter_right_side", "Right side to the judges", turn, -90, false, from_the_side},
    {"line_up", "Line-up stance", PoseFamily::line_up, 0, false, standing},
    {"front_double_biceps", "Front double biceps", mandatory, 0, false, arms_raised},
    {"front_lat_spread", "Front lat spread", mandatory, 0, false, arms_raised},
    {"side_chest", "Side chest", mandatory, std::nullopt, true, from_the_side},
    {"back_double_biceps", "Back double biceps", mandatory, 180, false, from_behind},
    {"back_lat_spread", "Back lat spread", mandatory, 180, false, from_behind},
    {"side_triceps", "Side triceps", mandatory, std::nullopt, true, from_the_side},
    {"abdominals_and_thighs", "Abdominals and thighs", mandatory, 0, false, arms_raised},
    {"most_muscular", "Most muscular", mandatory, 0, false, shown},
    {"vacuum", "Vacuum", mandatory, 0, false, shown},
    {"favourite_classic", "Favourite classic pose", mandatory, std::nullopt, false, shown},
}};

}  // namespace

std::span<const Pose> poses() {
    return all;
}

const Pose* find_pose(std::string_view id) {
    for (const Pose& pose : all) {
        if (pose.id == id) return &pose;
    }
    return nullptr;
}

}  // namespace quarterturn::rules
