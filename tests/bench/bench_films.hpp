#pragma once
/// Phone-like films for measuring, made once per build tree by the ffmpeg program.
#include <time.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <string>
#include <vector>

namespace quarterturn::bench {

std::filesystem::path h264_1080p();         ///< 10 s, 30 pictures/s, a key picture every second, two B-pictures, sound
std::filesystem::path h264_1080p_p_only();  ///< no picture can be left out, as many phones record
std::filesystem::path h264_1080p_variable();  ///< the same picture, uneven distances
std::filesystem::path h264_1080p_open_gop();
std::filesystem::path h264_1080p_ts();     ///< the first one as MPEG-TS
std::filesystem::path hevc_2160p_10bit();  ///< 6 s of 4K, HLG

std::string run(const std::string& command);

class Stopwatch {
  public:
    [[nodiscard]] double ms() const {
        return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start_).count();
    }

  private:
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

/// Processor time of the whole program, all threads: what a busy machine does not distort.
class CpuWatch {
  public:
    [[nodiscard]] double ms() const { return now_ms() - start_; }

  private:
    static double now_ms() {
        timespec time{};
        ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
        return static_cast<double>(time.tv_sec) * 1000 + static_cast<double>(time.tv_nsec) / 1e6;
    }
    double start_ = now_ms();
};

inline double median(std::vector<double> values) {
    if (values.empty()) return 0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

}  // namespace quarterturn::bench
