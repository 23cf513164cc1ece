#pragma once
/// A skeleton dressed in flesh: the parts of the distance field, what each belongs to, and what throws shadows.
#include <vector>

#include "field.hpp"
#include "skeleton.hpp"

namespace quarterturn::sample {

enum class Region : std::uint8_t {
    trunk,
    pelvis,
    head,
    hair,
    left_arm,
    right_arm,
    left_hand,
    right_hand,
    left_leg,
    right_leg,
    shoe
};

/// What a painter needs of a part besides its shape.
struct PartTag {
    Region region = Region::trunk;
    std::uint8_t body = 0;  ///< 0 the athlete, 1 the other person
};

/// Frames in which skin and clothes are painted, so that they move with the body.
struct PaintFrames {
    Vec chest_at, pelvis_at, head_at;
    Frame chest, pelvis, head;
    std::array<Vec, 2> shoulder, hip, wrist;
    std::array<Frame, 2> upper_arm, thigh, hand;
};

struct Flesh {
    std::vector<FieldPart> parts;
    std::vector<PartTag> tags;
    std::vector<float> reach;  ///< radius of a ball about the part's middle that holds it, metres
    std::vector<Vec> middle;
    std::vector<Caster> casters;
    std::vector<PaintFrames> frames;  ///< one per body
};

/// Adds one body to `flesh`.
void add_flesh(const BodyShape& shape, const Bones& bones, const Skeleton& skeleton, Flesh& flesh);

}  // namespace quarterturn::sample
