/// quarterturn still: one exact picture as a PNG file.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "base/file.hpp"
#include "base/media_time.hpp"
#include "cli/context.hpp"
#include "media/exact_reader.hpp"
#include "media/image.hpp"

namespace quarterturn::cli {
namespace {

struct StillOptions {
    std::string clip, out;
    std::optional<double> at;
    std::optional<std::int64_t> pts;
    std::optional<int> rotation_deg;
};

/// Before the first picture and after the last nothing is on screen.
Status check_moment(const media::FrameIndex& index, const StillOptions& options) {
    if (!options.at || index.pictures.empty()) return ok();
    const auto& pictures = index.pictures;
    const auto seconds = [&](std::size_t rank) {
        return seconds_between(pictures.front().pts, pictures[rank].pts, index.time_base);
    };
    const std::size_t last = pictures.size() - 1;
    const double end = seconds(last) + (last > 0 ? seconds(last) - seconds(last - 1) : 0);
    if (*options.at >= 0 && *options.at <= end) return ok();
    return Error{ErrorCode::bad_input, fmt::format("{} is {:.3f} s long; choose a second from 0 to there, not {:.6g}.",
                                                   options.clip, end, *options.at)};
}

Status save_still(const StillOptions& options) {
    auto reader = media::ExactReader::open(options.clip);
    if (!reader) return reader.error();
    if (Status whole = reader->wait_for_index(); !whole) return whole;
    if (Status inside = check_moment(reader->index(), options); !inside) return inside;
    const auto picture = options.pts ? reader->frame_at(*options.pts) : reader->frame_at_seconds(*options.at);
    if (!picture) return picture.error();
    const auto image = media::to_rgb(*picture, reader->info().turned_to(options.rotation_deg));
    if (!image) return image.error();
    const auto png = media::encode_png(*image);
    if (!png) return png.error();
    if (Status written = write_file(options.out, *png); !written) return written;
    const auto& index = reader->index();
    const double seconds = seconds_between(index.pictures.front().pts, picture->pts, index.time_base);
    fmt::print("{}: the picture at {:.3f} s (pts {}), {} x {}\n", options.out, seconds, picture->pts, image->width,
               image->height);
    return ok();
}

}  // namespace

void add_still(CLI::App& app, Context& context) {
    const auto options = std::make_shared<StillOptions>();
    CLI::App* command = add_command(app, context, "still", "Save one exact picture of a film as PNG",
                                    [options] { return save_still(*options); });
    command->add_option("clip", options->clip, "The film")->required();
    command->add_option("-o,--out", options->out, "The PNG file to write")->required();
    command->add_option("--rotation", options->rotation_deg, "Instead of the file's own rotation, counter-clockwise")
        ->check(CLI::IsMember({0, 90, 180, -90}));
    auto* when = command->add_option_group("which picture")->require_option(1);
    when->add_option("--at", options->at, "Seconds from the film's first picture: the picture on screen then");
    when->add_option("--frame-pts", options->pts, "Exact timestamp in the stream's time base");
}

}  // namespace quarterturn::cli
