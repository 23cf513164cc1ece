// Random exact seeks: ours against a plain libav seek-and-decode, FFMS2 and OpenCV on the same file, targets and thread
// count; wrong pictures are counted against decoding from first to last. Then stepping back inside what is kept.
// Must hold: our median at most 0.85 of the plain one with 0 wrong; a kept step at most a tenth of a seek.
#include <fmt/format.h>

#include <cstdio>
#include <cstdlib>
#include <functional>
#include <random>
#include <string>

#include "bench_films.hpp"
#include "media/exact_reader.hpp"
#include "media/linear_reader.hpp"
#include "other_readers.hpp"

namespace {

using namespace quarterturn;
using bench::PictureHash;

constexpr int targets_per_film = 40;

struct Truth {
    std::vector<std::int64_t> pts;
    std::vector<PictureHash> luma;
};

PictureHash hash_of(const media::Picture& picture) {
    const media::Plane& luma = picture.planes[0];
    return bench::hash_rows(luma.data, luma.stride_bytes, static_cast<std::size_t>(luma.width), luma.height);
}

Truth truth_of(const std::filesystem::path& path) {
    Truth truth;
    auto reader = media::LinearReader::open(path);
    if (!reader) std::abort();
    for (;;) {
        const auto picture = reader->next();
        if (!picture || !*picture) return truth;
        truth.pts.push_back((*picture)->pts);
        truth.luma.push_back(hash_of(**picture));
    }
}

/// One reader under test: how to open it and how to ask it for a picture.
struct Contender {
    std::string name;
    std::function<void()> open;
    std::function<std::optional<PictureHash>(std::size_t rank)> get;
    const std::vector<PictureHash>* truth = nullptr;
    double open_ms = 0;
    std::vector<double> seeks = {};
    std::vector<double> cpu = {};
    int wrong = 0;
};

std::optional<PictureHash> ours(media::ExactReader& reader, std::int64_t pts) {
    const auto picture = reader.frame_at(pts);
    return picture ? std::optional{hash_of(*picture)} : std::nullopt;
}

/// All contenders answer the same request in turn, so that whatever else the machine does hits them alike.
void compete(std::vector<Contender>& contenders, const std::vector<std::size_t>& targets) {
    for (Contender& each : contenders) {
        const bench::Stopwatch opening;
        each.open();
        each.open_ms = opening.ms();
    }
    for (const std::size_t rank : targets)
        for (Contender& each : contenders) {
            const bench::Stopwatch watch;
            const bench::CpuWatch cpu;
            const std::optional<PictureHash> hash = each.get(rank);
            each.seeks.push_back(watch.ms());
            each.cpu.push_back(cpu.ms());
            if (!hash || rank >= each.truth->size() || *hash != (*each.truth)[rank]) ++each.wrong;
        }
    const double plain = bench::median(contenders.front().seeks);
    const double plain_cpu = bench::median(contenders.front().cpu);
    for (const Contender& each : contenders)
        fmt::print(
            "  {:8} open {:6.1f} ms  seek median {:6.1f} ms, of plain {:.2f}; processor {:6.1f} ms, {:.2f}; wrong "
            "{}/{}\n",
            each.name, each.open_ms, bench::median(each.seeks), bench::median(each.seeks) / plain,
            bench::median(each.cpu), bench::median(each.cpu) / plain_cpu, each.wrong, targets.size());
}

void measure(const char* name, const std::filesystem::path& path, int threads) {
    const Truth truth = truth_of(path);
    const std::vector<PictureHash> bgr = bench::OpenCvReader::all_in_order(path);
    std::mt19937 random{17};
    std::vector<std::size_t> targets;
    for (int i = 0; i < targets_per_film; ++i) targets.push_back(random() % truth.pts.size());
    fmt::print("{}, {} threads, {} pictures\n", name, threads, truth.pts.size());
    std::optional<bench::NaiveReader> plain;
    std::optional<media::ExactReader> own;
    std::optional<bench::FfmsReader> ffms;
    std::optional<bench::OpenCvReader> opencv;
    std::vector<Contender> contenders{
        {"plain", [&] { plain.emplace(path, threads); },
         [&](std::size_t rank) { return plain->picture_at(truth.pts[rank]); }, &truth.luma},
        {"ours", [&] { own = media::ExactReader::open(path, {.threads = threads, .cache_mib = 0}).value(); },
         [&](std::size_t rank) { return ours(*own, truth.pts[rank]); }, &truth.luma},
        {"FFMS2", [&] { ffms.emplace(path, threads); },
         [&](std::size_t rank) { return ffms->picture_of_rank(static_cast<int>(rank)); }, &truth.luma},
        {"OpenCV", [&] { opencv.emplace(path); },
         [&](std::size_t rank) { return opencv->picture_of_rank(static_cast<int>(rank)); }, &bgr},
    };
    compete(contenders, targets);
}

/// Steps back over two seconds with the default cache; the median step comes from what is kept.
void measure_steps(const char* name, const std::filesystem::path& path, int threads) {
    auto reader = media::ExactReader::open(path, {.threads = threads});
    if (!reader) std::abort();
    const std::size_t last = reader->index().pictures.size() - 1;
    std::mt19937 random{23};
    std::vector<double> seeks;
    for (int i = 0; i < 15; ++i) {
        auto fresh = media::ExactReader::open(path, {.threads = threads, .cache_mib = 0}, reader->index());
        const bench::Stopwatch watch;
        if (!fresh || !fresh->frame_of_rank(random() % last)) std::abort();
        seeks.push_back(watch.ms());
    }
    if (!reader->frame_of_rank(last)) std::abort();
    std::vector<double> steps;
    for (int i = 0; i < 60; ++i) {
        const bench::Stopwatch watch;
        if (!reader->previous()) std::abort();
        steps.push_back(watch.ms());
    }
    double all = 0;
    for (const double step : steps) all += step;
    fmt::print(
        "{}: step back median {:.3f} ms, mean {:.1f} ms, longest {:.0f} ms; median/seek {:.4f} (must be <= 0.1)\n",
        name, bench::median(steps), all / 60, *std::max_element(steps.begin(), steps.end()),
        bench::median(steps) / bench::median(seeks));
}

}  // namespace

/// An argument limits the run to the films whose name has it in it.
int main(int count, char** arguments) {
    std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);  // each line when it is known, also into a file
    const std::string wanted = count > 1 ? arguments[1] : "";
    const std::vector<std::pair<const char*, std::filesystem::path (*)()>> films{
        {"1080p H.264 MP4", bench::h264_1080p},
        {"1080p H.264 MP4 without B-pictures", bench::h264_1080p_p_only},
        {"1080p H.264 MP4 variable rate", bench::h264_1080p_variable},
        {"1080p H.264 MP4 open GOP", bench::h264_1080p_open_gop},
        {"1080p H.264 MPEG-TS", bench::h264_1080p_ts},
        {"4K HEVC 10 bit MP4", bench::hevc_2160p_10bit},
    };
    for (const auto& [name, film] : films) {
        if (std::string{name}.find(wanted) == std::string::npos) continue;
        measure(name, film(), 2);
        measure_steps(name, film(), 2);
    }
}
