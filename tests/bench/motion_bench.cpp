// Measuring movement against decoding alone, same reader, same film, one thread, processor time, taking turns.
// Must hold: at most 1.5 times. Films: the arguments, else the demo films, else a drawn phone film.
#include <fmt/format.h>

#include <cstdlib>
#include <ctime>

#include "bench_films.hpp"
#include "body/motion.hpp"
#include "media/linear_reader.hpp"
#include "posing/analyse.hpp"

namespace {

using namespace quarterturn;

/// Of the whole program: other programs on the machine do not count.
double processor_ms() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

int decode(const std::filesystem::path& path) {
    auto reader = media::LinearReader::open(path, {1});
    if (!reader) std::abort();
    int pictures = 0;
    for (;;) {
        const auto picture = reader->next();
        if (!picture || !*picture) return pictures;
        ++pictures;
    }
}

void analyse(const std::filesystem::path& path) {
    body::MotionSettings settings;
    settings.threads = 1;
    const auto seen = body::observe_motion(path, settings);
    if (!seen) std::abort();
    (void)posing::analyse_motion(*seen);
}

double measure(const std::filesystem::path& path) {
    std::vector<double> decoding, analysing;
    int pictures = 1;
    for (int turn = 0; turn < 5; ++turn) {
        double start = processor_ms();
        pictures = decode(path);
        decoding.push_back(processor_ms() - start);
        start = processor_ms();
        analyse(path);
        analysing.push_back(processor_ms() - start);
    }
    const double ratio = bench::median(analysing) / bench::median(decoding);
    fmt::print("{:36} decode {:6.3f} ms/picture, analysis {:6.3f}; ratio {:.2f} (must be <= 1.5)\n",
               path.filename().string(), bench::median(decoding) / pictures, bench::median(analysing) / pictures,
               ratio);
    return ratio;
}

std::vector<std::filesystem::path> demo_films() {
    std::vector<std::filesystem::path> films;
    for (const char* folder : {"this_season", "earlier_season", "more"}) {
        const auto where = std::filesystem::path(QUARTERTURN_SOURCE_DIR) / "sample_clips" / folder;
        if (!std::filesystem::exists(where)) continue;
        for (const auto& entry : std::filesystem::directory_iterator(where))
            if (entry.path().extension() == ".mp4") films.push_back(entry.path());
    }
    std::sort(films.begin(), films.end());
    return films;
}

}  // namespace

int main(int argc, char** argv) {
    std::vector<std::filesystem::path> films(argv + 1, argv + argc);
    if (films.empty()) {
        films = demo_films();
        films.push_back(bench::h264_1080p());
    }
    std::vector<double> ratios;
    for (const auto& film : films) ratios.push_back(measure(film));
    fmt::print("median ratio {:.2f}, worst {:.2f}\n", bench::median(ratios),
               *std::max_element(ratios.begin(), ratios.end()));
}
