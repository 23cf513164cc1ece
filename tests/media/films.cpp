#include "media/films.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <sstream>
#include <stdexcept>

namespace quarterturn::test {
namespace {

namespace fs = std::filesystem;

fs::path cache_folder() {
    const fs::path folder = fs::path{QUARTERTURN_BINARY_DIR} / "test_films";
    fs::create_directories(folder);
    return folder;
}

std::string replaced(std::string text, std::string_view what, std::string_view by) {
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size()))
        text.replace(at, what.size(), by);
    return text;
}

/// The recipe is kept beside the film, so a changed recipe makes it anew. Renaming makes it whole at once for several
/// test programs running together.
fs::path made(const std::string& name, const std::string& recipe) {
    const fs::path folder = cache_folder();
    const fs::path path = folder / (std::to_string(std::hash<std::string>{}(recipe)) + "_" + name);
    if (fs::exists(path)) return path;
    const fs::path part = folder / (std::to_string(::getpid()) + "_" + path.filename().string());
    run("ffmpeg -nostdin -v error -y " + recipe + " '" + part.string() + "'");
    fs::rename(part, path);
    return path;
}

}  // namespace

std::string run(const std::string& command) {
    FILE* pipe = ::popen(command.c_str(), "r");
    if (pipe == nullptr) throw std::runtime_error("cannot run " + command);
    std::string output;
    std::array<char, 1U << 16U> block{};
    while (const std::size_t count = std::fread(block.data(), 1, block.size(), pipe))
        output.append(block.data(), count);
    if (::pclose(pipe) != 0) throw std::runtime_error("failed: " + command + "\n" + output);
    return output;
}

fs::path film(const std::string& name, const std::string& arguments) {
    std::string recipe = replaced(
        arguments, "{pattern}", "-f lavfi -i testsrc2=size=160x120:rate=30:duration=3,noise=alls=12:allf=t:all_seed=5");
    recipe = replaced(recipe, "{tone}", "-f lavfi -i sine=frequency=440:sample_rate=48000:duration=3");
    return made(name, recipe);
}

fs::path film_from(const fs::path& source, const std::string& name, const std::string& arguments) {
    return made(name, replaced(arguments, "{in}", "'" + source.string() + "'"));
}

const std::vector<FilmKind>& film_kinds() {
    static const std::vector<FilmKind> kinds = [] {
        const std::string x264 = " -c:v libx264 -preset veryfast -crf 24 -pix_fmt yuv420p -threads 2 ";
        const std::string x265 = " -c:v libx265 -preset ultrafast -crf 28 -threads 2 -x265-params log-level=none";
        const fs::path plain = film("h264.mp4", "{pattern}" + x264 + "-g 30 -bf 3");
        const fs::path open =
            film("h264_open_gop.mp4",
                 "{pattern}" + x264 + "-bf 3 -x264-params open-gop=1:keyint=20:min-keyint=20:scenecut=0");
        const std::string vfr =
            "-vf \"select='not(eq(mod(n,7),3))*not(between(n,40,48))'\" -fps_mode vfr -enc_time_base 1/90000 ";
        std::vector<FilmKind> made_kinds{
            {"h264 mp4", plain},
            {"h264 mp4 with sound", film("h264_sound.mp4", "{pattern} {tone}" + x264 + "-g 25 -bf 2 -c:a aac")},
            {"h264 mp4 open gop", open},
            {"h264 mp4 variable rate", film("h264_vfr.mp4", "{pattern} " + vfr + x264 + "-g 24 -bf 3")},
            {"h264 mov edit list", film_from(plain, "h264_edit.mov", "-ss 1.3 -i {in} -c copy")},
            {"h264 mp4 open gop edit list", film_from(open, "h264_open_edit.mp4", "-ss 1.5 -i {in} -c copy")},
            {"h264 mov start not zero", film_from(plain, "h264_start.mov", "-i {in} -c copy -output_ts_offset 5.5")},
            {"h264 mp4 negative dts",
             film("h264_negative.mp4",
                  "{pattern}" + x264 + "-g 30 -bf 3 -use_editlist 0 -movflags +negative_cts_offsets")},
            {"h264 mkv", film_from(plain, "h264.mkv", "-i {in} -c copy")},
            {"h264 mkv variable rate", film("h264_vfr.mkv", "{pattern} {tone} " + vfr + x264 + "-g 24 -bf 3 -c:a aac")},
            {"h264 mpegts", film_from(plain, "h264.ts", "-i {in} -c copy")},
            {"h264 mpegts open gop with sound",
             film("h264_open.ts", "{pattern} {tone}" + x264 + "-bf 3 -x264-params open-gop=1:keyint=20 -c:a aac")},
            {"h264 fragmented mp4",
             film_from(plain, "h264_fragments.mp4", "-i {in} -c copy -movflags frag_keyframe+empty_moov")},
            {"h264 lossless 4:4:4 mkv",
             film("h264_444.mkv", "{pattern} -c:v libx264 -preset ultrafast -qp 0 -pix_fmt yuv444p -g 12")},
            {"h264 10 bit mp4",
             film("h264_10.mp4", "{pattern} -c:v libx264 -preset veryfast -pix_fmt yuv420p10le -g 30")},
            {"hevc mp4", film("hevc.mp4", "{pattern}" + x265 + ":keyint=30:bframes=3 -pix_fmt yuv420p -tag:v hvc1")},
            {"hevc mp4 open gop",
             film("hevc_open.mp4", "{pattern} {tone}" + x265 +
                                       ":keyint=20:min-keyint=20:open-gop=1:bframes=4 -pix_fmt yuv420p -c:a aac")},
            {"hevc mov 10 bit hlg",
             film("hevc_hlg.mov",
                  "{pattern}" + x265 +
                      ":keyint=30:colorprim=bt2020:transfer=arib-std-b67:colormatrix=bt2020nc -pix_fmt yuv420p10le "
                      "-color_primaries bt2020 -color_trc arib-std-b67 -colorspace bt2020nc -tag:v hvc1")},
            {"hevc mp4 10 bit pq",
             film("hevc_pq.mp4",
                  "{pattern}" + x265 +
                      ":keyint=30:open-gop=0:colorprim=bt2020:transfer=smpte2084:colormatrix=bt2020nc -pix_fmt "
                      "yuv420p10le -color_primaries bt2020 -color_trc smpte2084 -colorspace bt2020nc")},
            {"hevc mpegts", film("hevc.ts", "{pattern}" + x265 + ":keyint=25:bframes=3:open-gop=1 -pix_fmt yuv420p")},
            {"vp9 webm", film("vp9.webm",
                              "{pattern} {tone} -c:v libvpx-vp9 -deadline realtime -cpu-used 8 -b:v 300k -g 30 "
                              "-auto-alt-ref 1 -lag-in-frames 16 -c:a libopus")},
            {"vp9 mkv variable rate",
             film("vp9_vfr.mkv",
                  "{pattern} " + vfr + "-c:v libvpx-vp9 -deadline realtime -cpu-used 8 -b:v 300k -g 30")},
            {"av1 webm", film("av1.webm", "{pattern} -c:v libsvtav1 -preset 12 -crf 45 -g 30 -pix_fmt yuv420p")},
            {"av1 mkv 10 bit",
             film("av1_10.mkv", "{pattern} -c:v libsvtav1 -preset 12 -crf 45 -g 20 -pix_fmt yuv420p10le")},
            {"av1 mp4", film("av1.mp4", "{pattern} -c:v libsvtav1 -preset 12 -crf 45 -g 30 -pix_fmt yuv420p")},
            {"mpeg4 avi", film("mpeg4.avi", "{pattern} -c:v mpeg4 -q:v 5 -g 25 -bf 0")},
            {"mpeg4 avi b-frames with sound",
             film("mpeg4_b.avi", "{pattern} {tone} -c:v mpeg4 -q:v 5 -g 25 -bf 2 -c:a mp3")},
            {"mjpeg avi", film("mjpeg.avi", "{pattern} -c:v mjpeg -q:v 5 -pix_fmt yuvj420p")},
            {"mjpeg mov 4:2:2", film("mjpeg.mov", "{pattern} -c:v mjpeg -q:v 5 -pix_fmt yuvj422p")},
        };
        return made_kinds;
    }();
    return kinds;
}

fs::path film_of_kind(std::string_view name) {
    for (const FilmKind& kind : film_kinds())
        if (kind.name == name) return kind.path;
    throw std::runtime_error("no film of kind " + std::string{name});
}

std::vector<std::string> pictures_by_ffmpeg(const fs::path& path, std::size_t bytes_per_picture) {
    const std::string all = run("ffmpeg -nostdin -v error -noautorotate -i '" + path.string() +
                                "' -map 0:v:0 -fps_mode passthrough -f rawvideo -");
    std::vector<std::string> pictures;
    for (std::size_t at = 0; at + bytes_per_picture <= all.size(); at += bytes_per_picture)
        pictures.push_back(all.substr(at, bytes_per_picture));
    return pictures;
}

std::vector<std::optional<std::int64_t>> timestamps_by_ffprobe(const fs::path& path) {
    std::istringstream lines{
        run("ffprobe -v fatal -select_streams v:0 -show_entries frame=best_effort_timestamp -of csv=p=0 '" +
            path.string() + "'")};
    std::vector<std::optional<std::int64_t>> result;
    for (std::string line; std::getline(lines, line);) {
        if (line.empty()) continue;
        if (line[0] == 'N')
            result.emplace_back();
        else
            result.emplace_back(std::stoll(line));
    }
    return result;
}

}  // namespace quarterturn::test
