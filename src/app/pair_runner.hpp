#pragma once
/// The hands behind the page with two takes: its jobs and its player. Part of the main loop.
#include <memory>

#include "app/jobs.hpp"
#include "app/outline_finder.hpp"
#include "app/pair_player.hpp"

namespace quarterturn::app {

class PairRunner {
  public:
    PairRunner(NewsBox& news, std::function<void()> wake);

    /// What the state asks for. @return false: not for this runner
    bool carry_out(const Request::Any& request, ReviewState& state);
    void opened(PairFilmsOpened& news);
    void cancel(std::uint64_t job) { comparing_.cancel(job); }
    void stop();

    struct Pictures {
        std::optional<media::Picture> now, before;
        bool changed = false;  ///< other films than before
    };
    /// Once per frame: new pictures; moves the state's clock.
    [[nodiscard]] Pictures turn(ReviewState& state);
    [[nodiscard]] double nap(const ReviewState& state);

  private:
    void compare(const Request::Compare& request, const ReviewState& state);
    void play(const ReviewState& state);

    NewsBox& news_;
    std::function<void()> wake_;
    Jobs looking_;  // opening films, light: short
    std::shared_ptr<OutlineFinder> outline_finder_ = std::make_shared<OutlineFinder>();
    Jobs tracing_;
    Jobs comparing_;  // shown, can be stopped
    std::uint64_t comparing_now_ = 0;
    std::unique_ptr<PairPlayer> player_;
    bool changed_ = false;
};

}  // namespace quarterturn::app
