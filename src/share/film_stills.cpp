#include "share/film_stills.hpp"

#include <algorithm>

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

}  // namespace

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
    media::ClipInfo info = film_->reader.info();
    if (clip.rotation_deg) info.rotation_deg = *clip.rotation_deg;
    Result<media::Image> image = media::to_rgb(*picture, info, max_height_);
    if (!image) return image.error();
    if (clip.mirrored) mirror(*image);
    const Result<std::string> jpeg = media::encode_jpeg(*image, 82);
    if (!jpeg) return jpeg.error();
    return Still{"data:image/jpeg;base64," + base64(*jpeg), image->width, image->height};
}

}  // namespace quarterturn::share
