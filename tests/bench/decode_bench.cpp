// Decoding from first to last: our linear reader against `ffmpeg -benchmark -f null -`, same file and thread count,
// taking turns. Must hold: ratio at least 0.95.
#include <fmt/format.h>

#include <cstdlib>

#include "bench_films.hpp"
#include "media/linear_reader.hpp"

namespace {

using namespace quarterturn;

struct Reading {
    double ms = 0;
    int pictures = 0;
};

Reading read_all(const std::filesystem::path& path, int threads) {
    const bench::Stopwatch watch;
    auto reader = media::LinearReader::open(path, {threads});
    if (!reader) std::abort();
    int pictures = 0;
    for (;;) {
        const auto picture = reader->next();
        if (!picture || !*picture) break;
        ++pictures;
    }
    return {watch.ms(), pictures};
}

/// The time ffmpeg itself prints: decoding without starting the program.
double by_ffmpeg(const std::filesystem::path& path, int threads) {
    const std::string text =
        bench::run(fmt::format("ffmpeg -nostdin -hide_banner -benchmark -threads {} -i '{}' -map 0:v:0 -f null - 2>&1",
                               threads, path.string()));
    const std::size_t at = text.rfind("rtime=");
    if (at == std::string::npos) std::abort();
    return 1000 * std::atof(text.c_str() + at + 6);
}

void measure(const char* name, const std::filesystem::path& path, int threads) {
    std::vector<double> ours;
    std::vector<double> theirs;
    int pictures = 0;
    for (int turn = 0; turn < 5; ++turn) {
        const Reading reading = read_all(path, threads);
        ours.push_back(reading.ms);
        pictures = reading.pictures;
        theirs.push_back(by_ffmpeg(path, threads));
    }
    fmt::print("{:24} {} threads: ours {:6.2f} ms/picture, ffmpeg {:6.2f}; throughput ratio {:.3f} (must be >= 0.95)\n",
               name, threads, bench::median(ours) / pictures, bench::median(theirs) / pictures,
               bench::median(theirs) / bench::median(ours));
}

}  // namespace

int main() {
    for (const int threads : {1, 2}) {
        measure("1080p H.264", bench::h264_1080p(), threads);
        measure("4K HEVC 10 bit", bench::hevc_2160p_10bit(), threads);
    }
}
