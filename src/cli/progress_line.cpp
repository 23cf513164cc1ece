#include "cli/progress_line.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>

namespace quarterturn::cli {

ProgressLine::ProgressLine() : terminal_(::isatty(STDERR_FILENO) != 0) {}

ProgressLine::~ProgressLine() {
    if (terminal_ && last_percent_ >= 0) std::fputs("\r\x1b[K", stderr);
}

void ProgressLine::show(double share, const std::string& label) {
    const int percent = static_cast<int>(std::clamp(share, 0.0, 1.0) * 100);
    if (!terminal_ || (percent == last_percent_ && label == last_label_)) return;
    last_percent_ = percent;
    last_label_ = label;
    constexpr int cells = 30;
    const int filled = percent * cells / 100;
    fmt::print(stderr, "\r\x1b[K[{:=<{}}{: <{}}] {:3} %  {}", "", filled, "", cells - filled, percent, label);
    std::fflush(stderr);
}

}  // namespace quarterturn::cli
