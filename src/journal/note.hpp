#pragma once
/// What somebody says about a moment or a stretch of a clip.
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/media_time.hpp"
#include "journal/record.hpp"
#include "rules/topic.hpp"

namespace quarterturn::journal {

using rules::Topic;

/// The longest text, in bytes of UTF-8.
inline constexpr std::size_t longest_note = 64U << 10U;

/// A moment (end_pts absent) or a stretch of a clip.
struct ClipMoment {
    std::int64_t start_pts = 0;
    std::optional<std::int64_t> end_pts;  ///< > start_pts
    TimeBase base;
    bool operator==(const ClipMoment&) const = default;
};

struct Note : Record {
    std::string session;               ///< id
    std::optional<std::string> clip;   ///< fingerprint; a note may be about the whole session
    std::optional<ClipMoment> moment;  ///< only with a clip
    std::optional<std::string> pose;   ///< pose id
    Topic topic = Topic::other;
    std::string text;                   ///< UTF-8, not empty
    bool done = false;                  ///< else still to do
    std::vector<std::string> drawings;  ///< each JSON text of an object, kept as it is
    bool operator==(const Note&) const = default;
};

}  // namespace quarterturn::journal
