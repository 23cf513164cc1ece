#include "app/outline_finder.hpp"

#include "body/clip_landmarks.hpp"
#include "body/model_files.hpp"

namespace quarterturn::app {

Status OutlineFinder::make_ready(const OutlineWanted& wanted) {
    if (!body_) {
        const auto models = body::load_models(body::ModelSize::full);
        if (!models) return models.error();
        auto body = body::make_body_reader(*models);
        if (!body) return body.error();
        body_ = std::move(*body);
    }
    if (reader_ && film_ == wanted.film) return ok();
    reader_.reset();
    auto reader = media::ExactReader::open(wanted.film, {.threads = 1, .cache_mib = 32},
                                           wanted.index ? std::optional(*wanted.index) : std::nullopt);
    if (!reader) return reader.error();
    reader_.emplace(std::move(*reader));
    film_ = wanted.film;
    return ok();
}

Result<body::OutlinePieces> OutlineFinder::find(const OutlineWanted& wanted) {
    if (Status ready = make_ready(wanted); !ready) return ready.error();
    const auto picture = reader_->frame_at(wanted.pts);
    if (!picture) return picture.error();
    const body::PictureView view(*picture, reader_->info().turned_to(wanted.rotation_deg));
    auto hips = wanted.hips;
    if (hips && wanted.mirrored) hips->x = view.width() - hips->x;
    auto pieces = body::outline_in(*body_, view, hips);
    if (pieces && wanted.mirrored)
        for (auto& [a, b] : *pieces) a.x = view.width() - a.x, b.x = view.width() - b.x;
    return pieces;
}

}  // namespace quarterturn::app
