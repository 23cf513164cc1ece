#pragma once
/// The main loop's hands: everything behind the window that the state asks for.
#include <memory>
#include <set>

#include "app/app.hpp"
#include "app/command.hpp"
#include "app/file_dialog.hpp"
#include "app/film_jobs.hpp"
#include "app/jobs.hpp"
#include "app/library_keeper.hpp"
#include "app/outline_finder.hpp"
#include "app/pair_runner.hpp"
#include "app/player.hpp"
#include "app/sound_player.hpp"

namespace quarterturn::app {

class Desktop {
  public:
    Desktop(const AppOptions& options, std::function<void()> wake);
    ~Desktop();
    Desktop(const Desktop&) = delete;
    Desktop& operator=(const Desktop&) = delete;

    ReviewState& state() { return state_; }

    /// Opens the library and the film the options name.
    void begin();
    void ask(const Command& command);

    /// Takes news and pictures in, and carries requests out. Once per frame.
    struct Turn {
        std::optional<media::Picture> picture;  ///< new on the stage
        PairRunner::Pictures pair;              ///< new on the page with two takes
        std::vector<StillMade> stills;
        bool film_changed = false, stills_changed = false;
        std::optional<bool> full_screen;
        bool quit = false;
    };
    [[nodiscard]] Turn turn(double seconds_since_last);

    /// How long the window may sleep before it has to look again.
    [[nodiscard]] double nap();

  private:
    void carry_out(const Request::Any& request, Turn& turn);
    void take_player_news(Turn& turn);
    [[nodiscard]] LibraryNow library_now() const;
    void take_upright(Turn& turn);
    void want_stills();
    void want_outline();
    void opened(FilmOpened& news, Turn& turn);
    void settings_changed();
    void take_chosen_files();

    AppOptions options_;
    std::function<void()> wake_;
    ReviewState state_;
    NewsBox news_;
    SoundPlayer sound_;
    bool sound_on_ = true;  // as the open film has it
    LibraryKeeper keeper_;  // before the jobs, which call it until they have ended
    Jobs looking_;          // opening and stills: short
    Jobs measuring_;        // analysis and adding: long, shown
    Jobs checking_;         // what is measured
    PairRunner pair_;
    FileDialog file_dialog_;
    std::unique_ptr<Player> player_;
    std::set<std::int64_t> stills_wanted_;
    share::Upright upright_;  // as the stills are
    std::uint64_t stills_job_ = 0;
    std::optional<std::int64_t> outline_wanted_;  // asked for last
    std::uint64_t outline_job_ = 0;
    std::shared_ptr<OutlineFinder> outline_finder_ = std::make_shared<OutlineFinder>();
};

}  // namespace quarterturn::app
