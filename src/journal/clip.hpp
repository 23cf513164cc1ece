#pragma once
/// A reference to one film file. The file is known by its fingerprint, so it may be moved or renamed.
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "base/media_time.hpp"
#include "journal/record.hpp"

namespace quarterturn::journal {

/// How sure the true speed is.
enum class SpeedSource {
    assumed,  ///< the file does not say otherwise: plays as it was filmed
    tagged,   ///< the file says how it was filmed
    given     ///< a person said so
};
[[nodiscard]] std::string_view speed_source_id(SpeedSource source);
[[nodiscard]] std::optional<SpeedSource> find_speed_source(std::string_view id);

/// Where a person showed the athlete, for films with several people in them.
struct AthleteShown {
    std::int64_t pts = 0;  ///< of the picture in which she was shown
    TimeBase base;
    double x = 0.5, y = 0.5;  ///< somewhere on her body, as shares of the upright picture's width and height, 0..1
    bool operator==(const AthleteShown&) const = default;
};

/// The same place on her body when the picture is shown with another rotation (degrees counter-clockwise, as the file
/// or Clip::rotation_deg gives it).
[[nodiscard]] AthleteShown turned(AthleteShown shown, int from_deg, int to_deg);

/// Record::id is the fingerprint.
struct Clip : Record {
    std::string session;        ///< id
    std::string original_name;  ///< file name when it was added
    std::string path;           ///< relative to the library folder ("clips/...") or absolute
    std::uint64_t file_bytes = 0;
    bool counts = true;                  ///< false for a take the person does not want in reports
    std::optional<Instant> recorded_at;  ///< as the camera wrote it; absent when the file lost it
    double time_scale = 1;               ///< true seconds per stored second; 0.25 for 120/s stored as 30/s
    SpeedSource speed_source = SpeedSource::assumed;
    bool mirrored = false;            ///< left and right are swapped in the file (front camera)
    std::optional<int> rotation_deg;  ///< overrides the file's: 0, 90, 180 or -90, counter-clockwise
    std::optional<double> tilt_deg;   ///< turned clockwise by so much the room is upright, (-45, 45]; 0: a person
                                      ///< said it is level; absent: estimated from how she stands
    std::optional<AthleteShown> athlete_at;  ///< absent: the largest, most central, longest there is followed
    [[nodiscard]] const std::string& fingerprint() const { return id; }
    bool operator==(const Clip&) const = default;
};

/// `path` made absolute.
[[nodiscard]] std::filesystem::path clip_file(const std::filesystem::path& library_folder, const Clip& clip);

}  // namespace quarterturn::journal
