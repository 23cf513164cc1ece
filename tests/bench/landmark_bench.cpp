/// What the landmarks of a film cost, as a ratio to what cannot be avoided: decoding every picture once and running the
/// bare network on every picture looked at (with its mask where one was asked for), all measured in this run. And how
/// much faster than the film it goes on one core, and on two.
///
///     landmark_bench [--rounds N] [FILM...]      without films: a demo film, 432 x 768, and the same enlarged to
///                                                1080 x 1920, each also without B-pictures
///
/// The first line of a film is the landmarks alone; the second is what measuring does: masks while held, the pictures
/// of the trunk and the phone's shake kept as well. Every figure is the least of N rounds (3 without --rounds) that
/// take turns. Ratios of CPU time hold on a busy machine too, the others need a quiet one. "Two jobs by CPU" is the CPU
/// of one job over that of the busier of two threads: what two jobs give when nobody else wants the cores. About ten
/// minutes.
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string_view>
#include <vector>

#include "bench_films.hpp"
#include "body/clip_landmarks.hpp"
#include "body/shake_record.hpp"
#include "media/linear_reader.hpp"

using namespace quarterturn;
using namespace quarterturn::body;

namespace {

/// Of all threads of this program, seconds.
double cpu_s() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

[[noreturn]] void give_up(const Error& error) {
    fmt::print(stderr, "{}\n", error.detail);
    std::exit(1);
}

/// Of the thread that asks, seconds.
double thread_s() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// 44 s, so that two jobs have two parts to read.
std::filesystem::path shipped_film() {
    return std::filesystem::path{QUARTERTURN_SOURCE_DIR} / "sample_clips/this_season/2026-04-25_full_round.mp4";
}

std::filesystem::path made(const char* name, const std::filesystem::path& film, const char* how) {
    const std::filesystem::path path = std::filesystem::path{QUARTERTURN_BINARY_DIR} / name;
    if (!std::filesystem::exists(path))
        bench::run(fmt::format("ffmpeg -nostdin -v error -y -i '{}' {} -c:v libx264 -crf 21 -an '{}'", film.string(),
                               how, path.string()));
    return path;
}

/// Phones that do not compress backwards and forwards write films in which every picture is needed by the next.
std::vector<std::filesystem::path> own_films() {
    const std::filesystem::path film = shipped_film();
    return {film, made("bench_full_round_432_p.mp4", film, "-bf 0 -g 30"),
            made("bench_full_round_1080.mp4", film, "-vf scale=1080:1920"),
            made("bench_full_round_1080_p.mp4", film, "-vf scale=1080:1920 -bf 0 -g 30")};
}

Network bare_network(const Models& models, bool with_mask) {
    std::vector<int> outputs;
    for (const int output : models.landmarks->graph().outputs) {
        const bool mask = models.landmarks->graph().tensors[static_cast<std::size_t>(output)].elements() ==
                          static_cast<std::size_t>(mask_side) * mask_side;
        if (!mask || with_mask) outputs.push_back(output);
    }
    auto network = Network::build(models.landmarks, outputs);
    if (!network) give_up(network.error());
    return std::move(network).value();
}

/// CPU of one plain loop: every picture decoded, the bare network run after every second one until `plain` runs without
/// and `masked` runs with the mask are done. In one loop, because a network runs slower between decoded pictures than
/// back to back.
double bare_s(const std::filesystem::path& film, const Models& models, int plain, int masked) {
    Network without = bare_network(models, false), with = bare_network(models, true);
    auto reader = media::LinearReader::open(film, {1});
    if (!reader) give_up(reader.error());
    const double start = cpu_s();
    int pictures = 0;
    for (auto picture = reader->next(); picture && *picture; picture = reader->next()) {
        if (++pictures % 2 != 0 || plain + masked == 0) continue;
        int& left = masked > 0 ? masked : plain;
        Network& network = masked > 0 ? with : without;
        static_cast<void>(network.run().has_value());
        --left;
    }
    if (plain + masked > 0) give_up({ErrorCode::bad_input, "This film has too few pictures for 15 looks a second."});
    return cpu_s() - start;
}

struct Cost {
    double cpu = 0;
    double busier = 0;  ///< CPU of the busier of two threads
    double wall = 0;
    int bodies = 0;
    int masks = 0;
};

Cost cost_of(const std::filesystem::path& film, const media::FrameIndex& index, const Models& models, int jobs,
             bool masks) {
    LandmarkSettings settings;
    settings.jobs = jobs;
    settings.tracker.masks = masks;
    if (masks) settings.observe = [](std::size_t) { return std::make_unique<PartRecord>(); };
    const bench::Stopwatch watch;
    const double start = cpu_s(), own_start = thread_s();
    const auto clip = clip_landmarks(film, index, models, settings);
    if (!clip) give_up(clip.error());
    const double cpu = cpu_s() - start, own = thread_s() - own_start;  // one job runs in this thread
    Cost cost{cpu, std::max(own, cpu - own), watch.ms() / 1000, 0, 0};
    for (const LandmarkFrame& frame : clip->series.frames) {
        cost.bodies += frame.body ? 1 : 0;
        cost.masks += masks && frame.held ? 1 : 0;
    }
    return cost;
}

const char* kept_to(bool kept) {
    return kept ? "kept" : "NOT kept";
}

/// The limits this program sets itself; for 1080p ones where the film is that large.
void print_against_limits(const std::filesystem::path& film, double ratio, double real_time, double two_jobs) {
    const auto info = media::probe(film);
    const double fastest = info && info->width * info->height > 1'000'000 ? 2 : 4;
    fmt::print("  CPU ratio at most 1.15: {}; real time at least {:g}: {}; two jobs at least 1.8: {}\n",
               kept_to(ratio <= 1.15), fastest, kept_to(real_time >= fastest), kept_to(two_jobs >= 1.8));
}

Cost least(const Cost& a, const Cost& b) {
    return {std::min(a.cpu, b.cpu), std::min(a.busier, b.busier), std::min(a.wall, b.wall), b.bodies, b.masks};
}

void measure(const std::filesystem::path& film, const Models& models, int rounds) {
    const auto index = media::build_index(film);
    if (!index) give_up(index.error());
    const double length_s = index->duration_s();
    for (const bool masks : {false, true}) {
        constexpr double never = 1e9;
        Cost one{never, never, never, 0, 0}, two = one;
        double bare = never;
        for (int round = 0; round < rounds; ++round) {
            one = least(one, cost_of(film, *index, models, 1, masks));
            bare = std::min(bare, bare_s(film, models, one.bodies - one.masks, one.masks));
            two = least(two, cost_of(film, *index, models, 2, masks));
        }
        fmt::print(
            "{} ({:.1f} s), {}: CPU {:.2f} s, bare loop {:.2f} s, ratio {:.3f}; {:.1f} x real time, two jobs {:.2f} x "
            "one, by CPU {:.2f}\n",
            film.filename().string(), length_s, masks ? "as measuring does" : "landmarks alone", one.cpu, bare,
            one.cpu / bare, length_s / one.wall, one.wall / two.wall, one.cpu / two.busier);
        if (masks) print_against_limits(film, one.cpu / bare, length_s / one.wall, one.wall / two.wall);
        std::fflush(stdout);
    }
}

}  // namespace

int main(int argc, char** argv) {
    const auto models = load_models(ModelSize::full);
    if (!models) give_up(models.error());
    int rounds = 3;
    std::vector<std::filesystem::path> films;
    for (int i = 1; i < argc; ++i) {
        if (std::string_view{argv[i]} == "--rounds" && i + 1 < argc)
            rounds = std::max(1, std::atoi(argv[++i]));
        else
            films.emplace_back(argv[i]);
    }
    if (films.empty()) films = own_films();
    for (const auto& film : films) measure(film, *models, rounds);
    return 0;
}
