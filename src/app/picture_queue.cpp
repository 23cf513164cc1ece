#include "app/picture_queue.hpp"

namespace quarterturn::app {

bool PictureQueue::put(DuePicture picture, std::uint64_t ticket, std::stop_token stop) {
    std::unique_lock lock(mutex_);
    const std::size_t size = picture.picture.bytes();
    const bool room = changed_.wait(
        lock, stop, [&] { return cleared_ != ticket || waiting_.size() < 2 || bytes_ + size <= budget_; });
    if (!room || cleared_ != ticket || stop.stop_requested()) return false;
    bytes_ += size;
    waiting_.push_back(std::move(picture));
    return true;
}

std::optional<DuePicture> PictureQueue::take(double now_s) {
    std::optional<DuePicture> due;
    {
        const std::lock_guard lock(mutex_);
        while (!waiting_.empty() && waiting_.front().due_s <= now_s) {
            if (due) ++counts_.dropped;
            bytes_ -= waiting_.front().picture.bytes();
            due = std::move(waiting_.front());
            waiting_.pop_front();
        }
        if (due) ++counts_.shown;
    }
    if (due) changed_.notify_all();
    return due;
}

std::optional<double> PictureQueue::next_due() const {
    const std::lock_guard lock(mutex_);
    if (waiting_.empty()) return std::nullopt;
    return waiting_.front().due_s;
}

std::uint64_t PictureQueue::clear() {
    std::uint64_t ticket = 0;
    {
        const std::lock_guard lock(mutex_);
        waiting_.clear();
        bytes_ = 0;
        counts_ = {};
        ticket = ++cleared_;
    }
    changed_.notify_all();
    return ticket;
}

std::size_t PictureQueue::bytes() const {
    const std::lock_guard lock(mutex_);
    return bytes_;
}

QueueCounts PictureQueue::counts() const {
    const std::lock_guard lock(mutex_);
    return counts_;
}

}  // namespace quarterturn::app
