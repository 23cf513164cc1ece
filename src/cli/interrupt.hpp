#pragma once
#include <stop_token>
#include <thread>

namespace quarterturn::cli {

/// Turns Ctrl-C and a polite kill into a stop request, so that long jobs end cleanly; a second one ends the program at
/// once. One at a time, made before any other thread.
class Interrupt {
  public:
    Interrupt();
    Interrupt(const Interrupt&) = delete;
    Interrupt& operator=(const Interrupt&) = delete;
    ~Interrupt();
    [[nodiscard]] std::stop_token token() const { return source_.get_token(); }

  private:
    std::stop_source source_;
    std::jthread waiter_;
};

}  // namespace quarterturn::cli
