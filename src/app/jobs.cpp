#include "app/jobs.hpp"

#include <algorithm>
#include <atomic>

namespace quarterturn::app {
namespace {

std::uint64_t next_job() {
    static std::atomic<std::uint64_t> last{0};
    return ++last;
}

}  // namespace

Jobs::Jobs(NewsBox& news, bool shown)
    : news_(news), shown_(shown), thread_([this](const std::stop_token& stop) { run(stop); }) {}

Jobs::~Jobs() {
    cancel_all();
    thread_.request_stop();
    thread_.join();
}

std::uint64_t Jobs::add(JobKind kind, std::string title, std::string clip, Work work) {
    const JobLine line{next_job(), kind, std::move(title), std::move(clip), 0, true};
    {
        const std::lock_guard lock(mutex_);
        waiting_.push_back({line, std::move(work)});
    }
    if (shown_) news_.post(JobMoved{line});
    changed_.notify_all();
    return line.id;
}

void Jobs::cancel(std::uint64_t job) {
    bool waited = false;
    {
        const std::lock_guard lock(mutex_);
        if (running_ == job) running_stop_.request_stop();
        waited = std::erase_if(waiting_, [&](const Job& entry) { return entry.line.id == job; }) > 0;
    }
    if (waited && shown_) news_.post(JobEnded{job});
}

void Jobs::cancel_all() {
    std::deque<Job> dropped;
    {
        const std::lock_guard lock(mutex_);
        dropped.swap(waiting_);
        if (running_ != 0) running_stop_.request_stop();
    }
    if (!shown_) return;
    for (const Job& job : dropped) news_.post(JobEnded{job.line.id});
}

void Jobs::run(const std::stop_token& stop) {
    while (!stop.stop_requested()) {
        Job job;
        {
            std::unique_lock lock(mutex_);
            if (!changed_.wait(lock, stop, [&] { return !waiting_.empty(); })) return;
            job = std::move(waiting_.front());
            waiting_.pop_front();
            running_ = job.line.id;
            running_stop_ = std::stop_source();
        }
        job.line.waiting = false;
        if (shown_) news_.post(JobMoved{job.line});
        double told = 0;
        job.work(running_stop_.get_token(), [&](double share) {
            if (!shown_ || share < told + 0.01) return;
            told = share;
            job.line.share = share;
            news_.post(JobMoved{job.line});
        });
        if (shown_) news_.post(JobEnded{job.line.id});
        const std::lock_guard lock(mutex_);
        running_ = 0;
    }
}

}  // namespace quarterturn::app
