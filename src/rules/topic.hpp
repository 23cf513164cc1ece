#pragma once
/// What a note can be about.
#include <optional>
#include <span>
#include <string_view>

namespace quarterturn::rules {

enum class Topic { transition, hands, twist_versus_sway, walk, feet, face, conditioning, other };

struct TopicName {
    Topic topic;
    std::string_view id;     ///< in documents and on the command line, e.g. "twist_versus_sway"
    std::string_view title;  ///< on screens, e.g. "Twist versus sway"
};

/// All topics in the order in which they are offered.
[[nodiscard]] std::span<const TopicName> topics();
[[nodiscard]] std::string_view topic_id(Topic topic);
[[nodiscard]] std::string_view topic_title(Topic topic);
[[nodiscard]] std::optional<Topic> find_topic(std::string_view id);

}  // namespace quarterturn::rules
