#pragma once
/// What threads bring back to the window: drained once per frame, taken into the state by absorb().
#include <functional>
#include <mutex>
#include <variant>
#include <vector>

#include "app/film_source.hpp"
#include "app/state.hpp"
#include "media/image.hpp"
#include "share/film_stills.hpp"

namespace quarterturn::app {

/// @param source  where the player gets the pictures; the main loop takes it out before the state sees the news
struct FilmOpened {
    OpenClip clip;
    std::shared_ptr<FilmSource> source;
};
struct StillMade {  ///< for the main loop, which keeps the textures
    std::filesystem::path file;
    std::int64_t pts = 0;
    share::Upright upright;  ///< how it was held
    media::Image image;
};
struct FilmsAdded {
    std::vector<std::string> fingerprints;
};  ///< the library has them now; posted after LibraryRead
struct LibraryRead {
    std::filesystem::path folder;
    journal::Library library;
    std::uint64_t saved_up_to = 0;  ///< edits with this number and before are in it
    bool opened = false;            ///< just opened or made: go there
};
struct Renamed {
    std::string from, to;
};  ///< an entry got another id when it was saved
struct SaveFailed {
    std::uint64_t number;
    Error error;
};
/// The disk does not take what was changed; it is kept and tried again.
struct SaveWaits {
    Error error;
};
struct SaveDone {};  ///< after SaveWaits: everything is on disk
struct JobMoved {
    JobLine job;
};
struct JobEnded {
    std::uint64_t job;
};
struct Measured {
    std::string fingerprint;
    posing::Analysis analysis;
    Filmed filmed;  ///< as it was measured; does not count where that has changed since
};
/// What the cache has for a clip as it is set.
struct LookedUp {
    std::string fingerprint;
    Filmed filmed;
    std::optional<rules::RuleSet> rules;
    std::optional<posing::Analysis> analysis;
};
struct MeasuredChecked {
    std::map<std::string, share::MeasuredState> states;
};
struct JointsFound {
    std::string fingerprint;
    Filmed filmed;
    std::shared_ptr<const JointTrack> joints;
};
struct OutlineFound {
    std::filesystem::path file;
    std::shared_ptr<const Outline> outline;
};
struct Fingerprinted {
    std::filesystem::path file;
    std::string fingerprint;
};
struct PairCompared {
    std::uint64_t number = 0;  ///< PairDesk::number when it was asked for
    std::shared_ptr<const PairMade> made;
    std::string trouble;  ///< why there is none
};
/// The main loop takes the sources out, as with FilmOpened.
struct PairFilmsOpened {
    std::shared_ptr<const PairMade> made;
    PairFilms films;
    std::shared_ptr<FilmSource> now, before;
};
struct LightMatched {
    std::shared_ptr<const PairMade> made;
    std::size_t pair = 0;
    std::optional<std::array<double, 3>> gains;  ///< absent: it cannot be told
};
struct OutlineTraced {
    std::shared_ptr<const PairMade> made;
    TracedOutline outline;
};
struct Said {
    std::string text;
    bool trouble = false;
};

using News = std::variant<FilmOpened, LibraryRead, Renamed, SaveFailed, SaveWaits, SaveDone, JobMoved, JobEnded,
                          Measured, LookedUp, MeasuredChecked, JointsFound, OutlineFound, Fingerprinted, Said,
                          StillMade, FilmsAdded, PairCompared, PairFilmsOpened, LightMatched, OutlineTraced>;

/// Takes one piece of news into the state.
void absorb(ReviewState& state, News news);

/// Filled by threads, emptied by the window by swapping the list out of the lock.
class NewsBox {
  public:
    /// @param wake  called after each piece, from any thread: gets the window out of its waiting
    explicit NewsBox(std::function<void()> wake = {}) : wake_(std::move(wake)) {}
    void post(News news);
    [[nodiscard]] std::vector<News> take();

  private:
    std::mutex mutex_;
    std::vector<News> news_;
    std::function<void()> wake_;
};

}  // namespace quarterturn::app
