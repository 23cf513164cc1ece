#include "bench_films.hpp"

#include <fmt/format.h>

#include <array>
#include <cstdio>
#include <stdexcept>

namespace quarterturn::bench {
namespace {

namespace fs = std::filesystem;

fs::path made(const std::string& name, const std::string& arguments) {
    const fs::path folder = fs::path{QUARTERTURN_BINARY_DIR} / "bench_films";
    fs::create_directories(folder);
    fs::path path = folder / name;
    if (fs::exists(path)) return path;
    fmt::print(stderr, "making {} ...\n", name);
    const fs::path part = folder / ("part_" + name);
    run(fmt::format("nice ffmpeg -nostdin -v error -y {} '{}'", arguments, part.string()));
    fs::rename(part, path);
    return path;
}

std::string pattern(const std::string& size, int seconds) {
    return fmt::format("-f lavfi -i testsrc2=size={}:rate=30:duration={},noise=alls=8:allf=t:all_seed=3 ", size,
                       seconds);
}

const std::string x264 = "-c:v libx264 -preset veryfast -crf 26 -pix_fmt yuv420p -bf 2 -b_strategy 0 -g 30 ";

}  // namespace

std::string run(const std::string& command) {
    FILE* pipe = ::popen(command.c_str(), "r");
    if (pipe == nullptr) throw std::runtime_error("cannot run " + command);
    std::string output;
    std::array<char, 4096> block{};
    while (const std::size_t count = std::fread(block.data(), 1, block.size(), pipe))
        output.append(block.data(), count);
    if (::pclose(pipe) != 0) throw std::runtime_error("failed: " + command);
    return output;
}

fs::path h264_1080p() {
    return made("h264_1080p_b.mp4",
                pattern("1920x1080", 10) + "-f lavfi -i sine=duration=10 " + x264 + "-c:a aac -shortest");
}

fs::path h264_1080p_p_only() {
    return made("h264_1080p_p.mp4",
                pattern("1920x1080", 10) + "-c:v libx264 -preset veryfast -crf 26 -pix_fmt yuv420p -bf 0 -g 30");
}

fs::path h264_1080p_variable() {
    return made("h264_1080p_b_variable.mp4", pattern("1920x1080", 10) +
                                                 "-vf \"select='not(eq(mod(n,7),3))*not(between(mod(n,100),40,44))'\" "
                                                 "-fps_mode vfr -enc_time_base 1/90000 " +
                                                 x264);
}

fs::path h264_1080p_open_gop() {
    return made("h264_1080p_b_open_gop.mp4", pattern("1920x1080", 10) + x264 + "-x264-params open-gop=1");
}

fs::path h264_1080p_ts() {
    return made("h264_1080p_b.ts", "-i '" + h264_1080p().string() + "' -c copy");
}

fs::path hevc_2160p_10bit() {
    return made("hevc_2160p_10bit.mp4",
                pattern("3840x2160", 6) +
                    "-c:v libx265 -preset ultrafast -crf 30 -pix_fmt yuv420p10le -tag:v hvc1 "
                    "-x265-params "
                    "log-level=none:keyint=30:bframes=2:colorprim=bt2020:transfer=arib-std-b67:colormatrix=bt2020nc");
}

}  // namespace quarterturn::bench
