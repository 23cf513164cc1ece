#include "cli/interrupt.hpp"

#include <csignal>

namespace quarterturn::cli {
namespace {

sigset_t signals(std::initializer_list<int> numbers) {
    sigset_t set;
    sigemptyset(&set);
    for (const int number : numbers) sigaddset(&set, number);
    return set;
}

/// Ends the waiting thread when the command is done.
constexpr int over = SIGUSR1;

}  // namespace

// A signal handler may do almost nothing; a thread that waits for the blocked signals may do anything.
Interrupt::Interrupt() {
    const sigset_t all = signals({SIGINT, SIGTERM, over});
    pthread_sigmask(SIG_BLOCK, &all, nullptr);
    waiter_ = std::jthread{[this, all] {
        int number = 0;
        sigwait(&all, &number);
        if (number == over) return;
        source_.request_stop();
        const sigset_t again = signals({SIGINT, SIGTERM});
        pthread_sigmask(SIG_UNBLOCK, &again, nullptr);  // a second request meets the default action
        const sigset_t end = signals({over});
        sigwait(&end, &number);
    }};
}

Interrupt::~Interrupt() {
    pthread_kill(waiter_.native_handle(), over);
    waiter_.join();
    const sigset_t set = signals({SIGINT, SIGTERM, over});
    pthread_sigmask(SIG_UNBLOCK, &set, nullptr);
}

}  // namespace quarterturn::cli
