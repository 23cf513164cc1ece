#pragma once
/// Real camera rolls: which day a clip belongs to, what is new, and how fast it was filmed. Nothing here opens a film:
/// the caller gives the facts.
#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.hpp"
#include "journal/clip.hpp"
#include "journal/season.hpp"

namespace quarterturn::journal {

struct ClipFacts {
    std::string fingerprint;
    std::filesystem::path path;  ///< where the file is now, absolute
    std::string kept_as;         ///< path of its copy inside the library (clip_files.hpp); empty: none is made
    std::uint64_t file_bytes = 0;
    Instant file_modified{};
    std::optional<Instant> recorded_at;  ///< UTC, as the container says
    std::optional<double> stored_rate;   ///< pictures per second as it plays
    std::optional<double> capture_rate;  ///< pictures per second when filmed, where a tag says so
};

/// Minutes that local time is ahead of UTC at an instant.
using UtcOffset = std::function<std::chrono::minutes(Instant)>;
/// This machine's time zone.
[[nodiscard]] std::chrono::minutes local_utc_offset(Instant instant);

struct DatedClip {
    Date date{};
    DateSource source = DateSource::given;
};

/// The local day of a clip: its recording time; without a believable one (none, before 2000, or later than a day after
/// the file was last written) the date in its file name; else the day the file was last written. The last two are
/// guesses.
[[nodiscard]] DatedClip date_of(const ClipFacts& clip, const UtcOffset& offset = local_utc_offset);

/// A date between 2000 and 2099 in a file name: "VID_20260307_101500.mp4", "2026-03-07 10.15.mov", "20260307.mp4".
/// Absent where there is none; the first where there are several.
[[nodiscard]] std::optional<Date> date_in_name(std::string_view file_name);

struct TrueSpeed {
    double time_scale = 1;  ///< true seconds per stored second
    SpeedSource source = SpeedSource::assumed;
    /// The file hints at slow motion without saying how much: the person has to be asked.
    bool ask = false;
};

/// Slow motion: filmed at 120/s and stored at 30/s gives 0.25 (tagged). Stored at 120/s or more plays at true speed.
/// A file name that speaks of slow motion without a tag asks.
[[nodiscard]] TrueSpeed true_speed(const ClipFacts& clip);

struct AddOptions {
    std::optional<Date> date;          ///< given by the person, for all clips
    std::optional<double> time_scale;  ///< given by the person, for all clips
    std::optional<bool> mirrored;
    std::optional<double> heel_height_cm;  ///< for sessions that are made
    UtcOffset offset = local_utc_offset;
};

enum class ClipOutcome {
    added,
    back,  ///< had been removed, is in the library again
    known  ///< was there already, or came twice in this call
};

struct AddedClip {
    std::string fingerprint;
    std::filesystem::path path;
    std::string session;  ///< id
    ClipOutcome outcome = ClipOutcome::added;
    bool date_guessed = false;
    bool ask_speed = false;
};

struct ClipsAdded {
    std::vector<AddedClip> clips;           ///< one for each given, in the same order
    std::vector<std::string> new_sessions;  ///< ids
};

}  // namespace quarterturn::journal
