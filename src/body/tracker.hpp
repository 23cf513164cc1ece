#pragma once
/// Follows one person from picture to picture.
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "body/athlete_choice.hpp"
#include "body/landmarks.hpp"
#include "body/region_keeper.hpp"

namespace quarterturn::body {

/// What the tracker asks of the networks; tests put their own behind it.
class BodyReader {
  public:
    BodyReader() = default;
    BodyReader(const BodyReader&) = delete;
    BodyReader& operator=(const BodyReader&) = delete;
    virtual ~BodyReader() = default;
    [[nodiscard]] virtual Result<std::vector<Person>> find(const PictureView& picture) = 0;
    [[nodiscard]] virtual Result<Reading> read(const PictureView& picture, const Region& region, bool with_mask) = 0;
};

struct TrackerSettings {
    double lost_below = 0.5;      ///< confidence under which the region holds nobody
    double look_around_s = 4;     ///< how often to see who else is there
    double search_s = 0.2;        ///< how often to look for somebody while nobody is followed
    double busy_look_s = 1;       ///< the same while several people are in the picture
    double doubt_look_s = 1;      ///< the same when the body seems to leave the held region: it may be another body
    double company_look_s = 0.2;  ///< the same while somebody else is near the athlete, or a foot moves as none can
    double most_shift_per_s = 4;  ///< a body's region cannot move faster: sides per second
    bool masks = false;           ///< ask for the outline mask while the region is held
    KeeperSettings keeper;
};

/// One picture's outcome.
struct Tracked {
    std::optional<Body> body;
    std::optional<Region> region;
    float confidence = 0;
    bool held = false;                 ///< the region was the same as in the picture before
    std::span<const float> mask;       ///< as Reading::mask; empty unless asked for and held
    std::optional<Sighting> sighting;  ///< when the detector looked
};

/// Not thread-safe. Give it pictures in order of time.
class Tracker {
  public:
    /// @param reader must outlive the tracker
    /// @param athlete where the athlete is known to be, e.g. from a first pass or chosen by a person
    Tracker(BodyReader& reader, TrackerSettings settings, std::optional<AthletePath> athlete = std::nullopt);

    /// @error as the networks
    [[nodiscard]] Result<Tracked> step(const PictureView& picture, double t_s);

  private:
    [[nodiscard]] Status look(const PictureView& picture, double t_s, Tracked& out);
    [[nodiscard]] double pause_before_look(double t_s) const;
    [[nodiscard]] Status look_around(const PictureView& picture, double t_s, Tracked& out);
    [[nodiscard]] Status start(const PictureView& picture, double t_s, Tracked& out);
    [[nodiscard]] bool plausible(const Reading& reading, double dt_s) const;
    /// Somebody stands `there` in the athlete's place while the one followed has come away from it.
    [[nodiscard]] bool led_off(const Region& place, const Region& there, double t_s) const;
    /// Whether the body followed is the one the detector sees there, with head and feet taken for each other.
    [[nodiscard]] bool read_over(const Region& seen) const;
    void begin_at(const Region& region);
    [[nodiscard]] std::optional<Region> expected_at(double t_s) const;
    void accept(const Reading& reading, double t_s, double dt_s, Tracked& out);

    BodyReader& reader_;
    TrackerSettings settings_;
    std::optional<AthletePath> athlete_;
    RegionKeeper keeper_;
    bool following_ = false;
    std::optional<Region> home_;  ///< where the region was last held: the athlete's place
    std::optional<double> held_since_s_;
    std::optional<double> last_t_s_;
    std::optional<double> last_seen_s_;
    std::optional<double> last_look_s_;
    bool busy_ = false;  ///< several people at the last look
    std::optional<Body> last_body_;
    std::optional<double> suspected_s_;  ///< when somebody else was last seen or suspected near the one followed
};

}  // namespace quarterturn::body
