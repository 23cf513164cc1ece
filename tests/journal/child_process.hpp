#pragma once
/// Work in another process: so that it can be killed, or write at the same time as this one.
#include <sys/types.h>

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace quarterturn::test {

/// Forked; its lines come through a pipe. Ended and waited for when it goes out of scope.
class ChildProcess {
  public:
    /// `work` gets a function that tells the parent a line; what it returns is the exit code.
    explicit ChildProcess(const std::function<int(const std::function<void(const std::string&)>&)>& work);
    ChildProcess(const ChildProcess&) = delete;
    ChildProcess& operator=(const ChildProcess&) = delete;
    ~ChildProcess();

    /// Waits for that many lines, or until the child has ended.
    [[nodiscard]] std::vector<std::string> lines(std::size_t count);
    /// SIGKILL; then all complete lines it had written and that were not fetched yet.
    [[nodiscard]] std::vector<std::string> kill();
    /// Its exit code, -1 when it did not end by itself.
    [[nodiscard]] int wait();

  private:
    bool read_more();
    [[nodiscard]] std::vector<std::string> take_lines(std::size_t most);

    pid_t pid_ = -1;
    int pipe_ = -1;
    std::string buffer_;
};

}  // namespace quarterturn::test
