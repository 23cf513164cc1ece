#include "child_process.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <cstdlib>
#include <utility>

namespace quarterturn::test {

ChildProcess::ChildProcess(const std::function<int(const std::function<void(const std::string&)>&)>& work) {
    std::array<int, 2> ends{};
    if (::pipe(ends.data()) != 0) std::abort();
    pid_ = ::fork();
    if (pid_ < 0) std::abort();
    if (pid_ > 0) {
        ::close(ends[1]);
        pipe_ = ends[0];
        return;
    }
    ::close(ends[0]);
    const int code = work([&](const std::string& line) {
        const std::string whole = line + "\n";
        if (::write(ends[1], whole.data(), whole.size()) != static_cast<ssize_t>(whole.size())) ::_exit(99);
    });
    ::_exit(code);  // without the parent's destructors and exit handlers
}

ChildProcess::~ChildProcess() {
    if (pid_ > 0) (void)kill();
    ::close(pipe_);
}

bool ChildProcess::read_more() {
    std::array<char, 4096> block{};
    const ssize_t count = ::read(pipe_, block.data(), block.size());
    if (count <= 0) return false;
    buffer_.append(block.data(), static_cast<std::size_t>(count));
    return true;
}

std::vector<std::string> ChildProcess::take_lines(std::size_t most) {
    std::vector<std::string> taken;
    for (auto end = buffer_.find('\n'); end != std::string::npos && taken.size() < most; end = buffer_.find('\n')) {
        taken.push_back(buffer_.substr(0, end));
        buffer_.erase(0, end + 1);
    }
    return taken;
}

std::vector<std::string> ChildProcess::lines(std::size_t count) {
    std::vector<std::string> found = take_lines(count);
    while (found.size() < count && read_more()) {
        for (std::string& line : take_lines(count - found.size())) found.push_back(std::move(line));
    }
    return found;
}

std::vector<std::string> ChildProcess::kill() {
    ::kill(pid_, SIGKILL);
    (void)wait();
    while (read_more()) {
    }
    return take_lines(std::string::npos);
}

int ChildProcess::wait() {
    int status = 0;
    if (::waitpid(std::exchange(pid_, -1), &status, 0) < 0) return -1;
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace quarterturn::test
