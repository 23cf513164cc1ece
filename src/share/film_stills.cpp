#include "share/film_stills.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "media/exact_reader.hpp"
#include "media/image.hpp"
#include "share/base64.hpp"

namespace quarterturn::share {
namespace {

void mirror(media::Image& image) {
    const auto channels = static_cast<std::size_t>(image.channels);
    const std::size_t row = static_cast<std::size_t>(image.width) * channels;
    for (std::size_t start = 0; start + row <= image.samples.size(); start += row) {
        for (std::size_t left = 0, right = row - channels; left < right; left += channels, right -= channels)
            std::swap_ranges(image.samples.begin() + static_cast<std::ptrdiff_t>(start + left),
                             image.samples.begin() + static_cast<std::ptrdiff_t>(start + left + channels),
                             image.samples.begin() + static_cast<std::ptrdiff_t>(start + right));
    }
}

/// Turned clockwise about its middle, edges repeated.
media::Image turned(const media::Image& image, double clockwise_deg) {
    media::Image out = image;
    const double angle = clockwise_deg * std::numbers::pi / 180, cosine = std::cos(angle), sine = std::sin(angle);
    const double cx = (image.width - 1) / 2.0, cy = (image.height - 1) / 2.0;
    for (int y = 0; y < image.height; ++y) {
        for (int x = 0; x < image.width; ++x) {
            const double dx = x - cx, dy = y - cy;
            const double from_x = std::clamp(cx + cosine * dx + sine * dy, 0.0, image.width - 1.0);
            const double from_y = std::clamp(cy - sine * dx + cosine * dy, 0.0, image.height - 1.0);
            const int x0 = static_cast<int>(from_x), y0 = static_cast<int>(from_y);
            const int x1 = std::min(x0 + 1, image.width - 1), y1 = std::min(y0 + 1, image.height - 1);
            const double fx = from_x - x0, fy = from_y - y0;
            for (int c = 0; c < image.channels; ++c) {
                const auto at = [&](int column, int row) {
                    return static_cast<double>(
                        image.samples[static_cast<std::size_t>((row * image.width + column) * image.channels + c)]);
                };
                const double level = (1 - fy) * ((1 - fx) * at(x0, y0) + fx * at(x1, y0)) +
                                     fy * ((1 - fx) * at(x0, y1) + fx * at(x1, y1));
                out.samples[static_cast<std::size_t>((y * image.width + x) * image.channels + c)] =
                    static_cast<std::uint8_t>(std::lround(level));
            }
        }
    }
    return out;
}

}  // namespace

Upright upright_of(const journal::Clip& clip) {
    return {clip.rotation_deg, clip.tilt_deg.value_or(0), clip.mirrored};
}

Result<media::Image> upright_image(const media::Picture& picture, const media::ClipInfo& info, const Upright& how,
                                   int max_height) {
    Result<media::Image> image = media::to_rgb(picture, info.turned_to(how.rotation_deg), max_height);
    if (!image) return image;
    if (how.tilt_deg != 0) *image = turned(*image, how.tilt_deg);
    if (how.mirrored) mirror(*image);
    return image;
}

struct FilmStills::Film {
    std::string fingerprint;
    media::ExactReader reader;
};

FilmStills::FilmStills(FilmOf film_of, int max_height) : film_of_(std::move(film_of)), max_height_(max_height) {}
FilmStills::~FilmStills() = default;

Status FilmStills::open(const journal::Clip& clip) {
    if (film_ && film_->fingerprint == clip.fingerprint()) return ok();
    film_.reset();
    const Result<std::filesystem::path> path = film_of_(clip);
    if (!path) return path.error();
    Result<media::ExactReader> reader = media::ExactReader::open(*path, {.threads = 0, .cache_mib = 32});
    if (!reader) return reader.error();
    film_ = std::make_unique<Film>(Film{clip.fingerprint(), std::move(reader).value()});
    return ok();
}

Result<Still> FilmStills::at(const journal::Clip& clip, std::int64_t pts) {
    if (const Status opened = open(clip); !opened) return opened.error();
    const auto rank = film_->reader.index().rank_nearest(pts);
    if (!rank) return Error{ErrorCode::not_found, "The film holds no picture."};
    const Result<media::Picture> picture = film_->reader.frame_of_rank(*rank);
    if (!picture) return picture.error();
    const Result<media::Image> image = upright_image(*picture, film_->reader.info(), upright_of(clip), max_height_);
    if (!image) return image.error();
    const Result<std::string> jpeg = media::encode_jpeg(*image, 82);
    if (!jpeg) return jpeg.error();
    return Still{"data:image/jpeg;base64," + base64(*jpeg), image->width, image->height};
}

}  // namespace quarterturn::share
