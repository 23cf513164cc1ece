#include "rules/topic.hpp"

#include <array>

namespace quarterturn::rules {
namespace {

constexpr std::array<TopicName, 8> all{{
    {Topic::transition, "transition", "Transition"},
    {Topic::hands, "hands", "Hands"},
    {Topic::twist_versus_sway, "twist_versus_sway", "Twist versus sway"},
    {Topic::walk, "walk", "Walk"},
    {Topic::feet, "feet", "Feet"},
    {Topic::face, "face", "Face"},
    {Topic::conditioning, "conditioning", "Conditioning"},
    {Topic::other, "other", "Other"},
}};

const TopicName& name_of(Topic topic) {
    for (const TopicName& name : all) {
        if (name.topic == topic) return name;
    }
    return all.back();
}

}  // namespace

std::span<const TopicName> topics() {
    return all;
}

std::string_view topic_id(Topic topic) {
    return name_of(topic).id;
}

std::string_view topic_title(Topic topic) {
    return name_of(topic).title;
}

std::optional<Topic> find_topic(std::string_view id) {
    for (const TopicName& name : all) {
        if (name.id == id) return name.topic;
    }
    return std::nullopt;
}

}  // namespace quarterturn::rules
