#pragma once
/// Work that takes its time, done one after the other on a thread of its own, with progress and cancel.
#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <string>
#include <thread>

#include "app/news.hpp"

namespace quarterturn::app {

class Jobs {
  public:
    using Work = std::function<void(std::stop_token stop, const std::function<void(double)>& progress)>;

    /// @param shown  whether the jobs appear among ReviewState::jobs
    Jobs(NewsBox& news, bool shown);
    ~Jobs();  ///< stops the one that runs; those waiting are forgotten
    Jobs(const Jobs&) = delete;
    Jobs& operator=(const Jobs&) = delete;

    std::uint64_t add(JobKind kind, std::string title, std::string clip, Work work);
    /// Stops it, or takes it out of the waiting line.
    void cancel(std::uint64_t job);
    /// Forgets what has not begun and stops what runs.
    void cancel_all();

  private:
    struct Job {
        JobLine line;
        Work work;
    };
    void run(const std::stop_token& stop);

    NewsBox& news_;
    bool shown_;
    std::mutex mutex_;
    std::condition_variable_any changed_;
    std::deque<Job> waiting_;
    std::uint64_t running_ = 0;
    std::stop_source running_stop_;
    std::jthread thread_;
};

}  // namespace quarterturn::app
