// Making a side-by-side film against the ffmpeg program stacking the same two films with the same encoder settings,
// taking turns in the same run. Must hold: at least 0.8 of its speed. Films: two arguments, else a drawn phone film
// twice.
#include <fmt/format.h>

#include <sys/resource.h>

#include <cmath>
#include <cstdlib>

#include "bench_films.hpp"
#include "media/frame_index.hpp"
#include "media/probe.hpp"
#include "share/side_by_side.hpp"

namespace {

using namespace quarterturn;

body::CourseFrame standing(double t_s, const media::ClipInfo& info, double share) {
    body::CourseFrame frame;
    frame.t_s = t_s;
    frame.present = true;
    frame.height_px = share * info.shown_height();
    const auto put = [&](body::Joint joint, double x, double up) {
        frame.points[static_cast<std::size_t>(joint)] = {info.shown_width() / 2.0 + frame.height_px * x,
                                                         0.9 * info.shown_height() - frame.height_px * up, 0.9};
    };
    using enum body::Joint;
    put(left_shoulder, 0.13, 0.82), put(right_shoulder, -0.13, 0.82), put(left_hip, 0.09, 0.53);
    put(right_hip, -0.09, 0.53), put(left_ankle, 0.07, 0.04), put(right_ankle, -0.07, 0.04);
    return frame;
}

/// One hold from the film's beginning to its end, so that every picture is drawn and turned.
share::ComparedSide side_of(const std::filesystem::path& film, double share, double end_share) {
    const auto info = media::probe(film);
    const auto index = media::build_index(film);
    if (!info || !index) std::abort();
    posing::Analysis analysis;
    analysis.clip.file = film.filename().string();
    analysis.clip.time_base = index->time_base;
    analysis.clip.first_pts = index->pictures.front().pts;
    analysis.clip.duration_s = index->duration_s();
    posing::Segment hold;
    hold.kind = posing::SegmentKind::hold;
    hold.pose = "quarter_front";
    hold.end_s = end_share * analysis.clip.duration_s;
    hold.start_pts = analysis.clip.first_pts;
    hold.end_pts = compare::pts_of(analysis.clip, hold.end_s);
    hold.steadiest_pts = (hold.start_pts + hold.end_pts) / 2;
    analysis.segments.push_back(hold);
    body::BodyCourse course;
    course.width = info->shown_width();
    course.height = info->shown_height();
    for (double t = 0; t < analysis.clip.duration_s; t += 0.2) course.frames.push_back(standing(t, *info, share));
    share::ComparedSide side{"", {}};
    side.films.push_back({{analysis.clip.file, std::make_shared<const posing::Analysis>(std::move(analysis)),
                           std::make_shared<const body::BodyCourse>(std::move(course))},
                          film,
                          std::nullopt});
    return side;
}

/// Of one run: the clock's time, and the processor's, which other programs on the machine disturb less.
struct Taken {
    double wall_s = 0, cpu_s = 0;
};
double cpu_s(int who) {
    rusage usage{};
    getrusage(who, &usage);
    const auto seconds = [](const timeval& t) {
        return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
    };
    return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}
template <class Work>
Taken timed(int who, const Work& work) {
    const double cpu = cpu_s(who);
    const bench::Stopwatch watch;
    work();
    return {watch.ms() / 1000, cpu_s(who) - cpu};
}

Taken ours(const share::ComparedSide& now, const share::ComparedSide& before, const std::filesystem::path& out) {
    const auto comparison = compare::compare_takes(now.takes(), before.takes());
    share::SideBySide how;
    how.sound = false;
    return timed(RUSAGE_SELF, [&] {
        if (!share::write_side_by_side_film(now, before, comparison, how, out)) std::abort();
    });
}

Taken by_ffmpeg(const std::filesystem::path& now, const std::filesystem::path& before,
                const std::filesystem::path& out) {
    const auto info = media::probe(now);
    const int rows = std::min(1080, info->shown_height());
    const int columns = 2 * static_cast<int>(std::lround(rows * info->shown_width() / (2.0 * info->shown_height())));
    const std::string size = fmt::format("scale={}:{}", columns, rows);
    const std::string command = fmt::format(
        "ffmpeg -nostdin -v error -y -i {} -i {} -filter_complex '[0:v]{}[a];[1:v]{}[b];[a][b]hstack' -an -c:v libx264 "
        "-preset medium -crf 23 -g 60 -pix_fmt yuv420p -movflags +faststart {}",
        now.string(), before.string(), size, size, out.string());
    return timed(RUSAGE_CHILDREN, [&] {
        if (std::system(command.c_str()) != 0) std::abort();
    });
}

}  // namespace

int main(int argc, char** argv) {
    const std::filesystem::path now = argc > 1 ? argv[1] : bench::h264_1080p();
    const std::filesystem::path before = argc > 2 ? argv[2] : now;
    const auto folder = std::filesystem::temp_directory_path();
    const auto a = folder / "quarterturn_side_by_side_ours.mp4", b = folder / "quarterturn_side_by_side_other.mp4";
    const auto left = side_of(now, 0.8, 1), right = side_of(before, 0.75, 1);
    std::vector<double> ours_wall, ours_cpu, other_wall, other_cpu;
    for (int turn = 0; turn < 3; ++turn) {
        const Taken other = by_ffmpeg(now, before, b), here = ours(left, right, a);
        other_wall.push_back(other.wall_s), other_cpu.push_back(other.cpu_s);
        ours_wall.push_back(here.wall_s), ours_cpu.push_back(here.cpu_s);
    }
    const double ratio = bench::median(other_wall) / bench::median(ours_wall);
    fmt::print(
        "{} beside {}: ffmpeg {:.2f} s, here {:.2f} s (medians of 3); speed {:.2f} of ffmpeg's (must be >= 0.8)\n",
        now.filename().string(), before.filename().string(), bench::median(other_wall), bench::median(ours_wall),
        ratio);
    fmt::print("processor time: ffmpeg {:.2f} s, here {:.2f} s, {:.2f}\n", bench::median(other_cpu),
               bench::median(ours_cpu), bench::median(other_cpu) / bench::median(ours_cpu));
    fmt::print("sizes: ffmpeg {} kB, here {} kB\n", std::filesystem::file_size(b) / 1000,
               std::filesystem::file_size(a) / 1000);
    std::filesystem::remove(a);
    std::filesystem::remove(b);
    return ratio >= 0.8 ? 0 : 1;
}
