#pragma once
/// A thread that works for whoever asked last: a new wish takes the place of the one before at once, and nothing the
/// older one still brings is taken.
#include <condition_variable>
#include <cstdint>
#include <functional>
#include <mutex>
#include <stop_token>
#include <thread>
#include <utility>

namespace quarterturn::app {

/// @tparam Answer  what the thread has brought for the latest wish; starts anew with each
template <class Wish, class Answer>
class LatestWish {
  public:
    /// What the work sees.
    class Asked {
      public:
        Wish wish;

        /// Whether it is worth going on: nothing newer was asked and the thread is not ending.
        [[nodiscard]] bool still() const { return !stop_.stop_requested() && owner_->is_latest(number_); }
        [[nodiscard]] const std::stop_token& stop() const { return stop_; }
        /// Lets `change` write into the answer. @return false: something newer was asked, nothing was written
        template <class Change>
        bool answer(Change change) const {
            const std::lock_guard lock(owner_->mutex_);
            if (owner_->number_ != number_) return false;
            change(owner_->answer_);
            return true;
        }

      private:
        friend class LatestWish;
        Asked(LatestWish& owner, Wish asked, std::uint64_t number, std::stop_token stop)
            : wish(std::move(asked)), owner_(&owner), number_(number), stop_(std::move(stop)) {}
        LatestWish* owner_;
        std::uint64_t number_;
        std::stop_token stop_;
    };
    using Work = std::function<void(const Asked&)>;

    /// @param work  called on the thread for each wish that is the latest when the thread is free. It uses what its
    ///              owner has, so this is the owner's last member.
    explicit LatestWish(Work work)
        : work_(std::move(work)), thread_([this](const std::stop_token& stop) { run(stop); }) {}
    LatestWish(const LatestWish&) = delete;
    LatestWish& operator=(const LatestWish&) = delete;
    ~LatestWish() = default;  ///< waits for the work, which is told to stop

    void ask(Wish wish) {
        {
            const std::lock_guard lock(mutex_);
            wish_ = std::move(wish);
            answer_ = Answer{};
            ++number_;
        }
        changed_.notify_all();
    }

    /// `look` may take out of the answer what it likes. @return what it returns
    template <class Look>
    auto look(Look look) {
        const std::lock_guard lock(mutex_);
        return look(answer_);
    }

  private:
    [[nodiscard]] bool is_latest(std::uint64_t number) {
        const std::lock_guard lock(mutex_);
        return number_ == number;
    }

    void run(const std::stop_token& stop) {
        std::uint64_t done = 0;
        while (true) {
            std::unique_lock lock(mutex_);
            if (!changed_.wait(lock, stop, [&] { return number_ != done; })) return;
            done = number_;
            const Asked asked(*this, wish_, done, stop);
            lock.unlock();
            work_(asked);
        }
    }

    Work work_;
    std::mutex mutex_;
    std::condition_variable_any changed_;
    std::uint64_t number_ = 0;
    Wish wish_{};
    Answer answer_{};
    std::jthread thread_;
};

}  // namespace quarterturn::app
