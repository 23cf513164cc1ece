// Memory while a 4K 10-bit clip is looked at with the default cache: jumps, steps back, steps forward, stills.
// Must hold: under 600 MB resident at the peak.
#include <fmt/format.h>

#include <cstdlib>
#include <fstream>
#include <random>
#include <string>

#include "bench_films.hpp"
#include "media/exact_reader.hpp"
#include "media/image.hpp"

namespace {

double peak_mb() {
    std::ifstream status{"/proc/self/status"};
    for (std::string line; std::getline(status, line);)
        if (line.starts_with("VmHWM:")) return std::atof(line.c_str() + 6) / 1024;
    return 0;
}

}  // namespace

int main() {
    using namespace quarterturn;
    const auto path = bench::hevc_2160p_10bit();
    const double before = peak_mb();
    auto reader = media::ExactReader::open(path);
    if (!reader) std::abort();
    const std::size_t count = reader->index().pictures.size();
    std::mt19937 random{5};
    for (int i = 0; i < 10; ++i)
        if (!reader->frame_of_rank(random() % count)) std::abort();
    fmt::print("after 10 jumps: peak {:.0f} MB, cache {:.0f} MB\n", peak_mb(),
               static_cast<double>(reader->cached_bytes()) / 1e6);
    if (!reader->frame_of_rank(count - 1)) std::abort();
    std::vector<double> back;
    for (int i = 0; i < 60; ++i) {
        const bench::Stopwatch watch;
        if (!reader->previous()) std::abort();
        back.push_back(watch.ms());
    }
    fmt::print("60 steps back: median {:.2f} ms, longest {:.0f} ms\n", bench::median(back),
               *std::max_element(back.begin(), back.end()));
    for (int i = 0; i < 60; ++i)
        if (!reader->next()) std::abort();
    const auto picture = reader->nearest(2.0);
    if (!picture || !media::to_rgb(*picture, reader->info())) std::abort();
    fmt::print("4K 10-bit review: peak {:.0f} MB resident ({:.0f} MB before opening); must be < 600\n", peak_mb(),
               before);
}
