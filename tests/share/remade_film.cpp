#include "share/remade_film.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <memory>
#include <opencv2/imgproc.hpp>

#include "media/film_writer.hpp"
#include "media/linear_reader.hpp"

namespace quarterturn::test {

void remake_film(const std::filesystem::path& source, double from_s, double to_s, int every,
                 const std::filesystem::path& made,
                 const std::function<media::Image(const media::Image&, double t_s)>& change) {
    auto reader = media::LinearReader::open(source, {.threads = 1});
    REQUIRE(reader);
    const TimeBase base = reader->info().time_base;
    std::unique_ptr<media::FilmWriter> writer;
    std::optional<std::int64_t> first_of_film, first;
    for (int count = 0;; ++count) {
        const auto picture = reader->next();
        REQUIRE(picture);
        if (!*picture) break;
        if (!first_of_film) first_of_film = (*picture)->pts;
        const double t_s = seconds_between(*first_of_film, (*picture)->pts, base);
        if (t_s >= to_s) break;
        if (t_s < from_s || count % every != 0) continue;
        if (!first) first = (*picture)->pts;
        const auto rgb = media::to_rgb(**picture, reader->info());
        REQUIRE(rgb);
        const media::Image changed = change(*rgb, seconds_between(*first, (*picture)->pts, base));
        if (!writer) {
            media::FilmSettings settings;
            settings.width = changed.width;
            settings.height = changed.height;
            settings.time_base = base;
            settings.threads = 1;
            settings.deterministic = true;
            auto created = media::FilmWriter::create(made, settings);
            REQUIRE(created);
            writer = std::make_unique<media::FilmWriter>(std::move(*created));
        }
        REQUIRE(writer->add(changed, (*picture)->pts - *first));
    }
    REQUIRE(writer);
    REQUIRE(writer->finish());
}

media::Image moved(const media::Image& image, double x, double y, double turn_rad) {
    media::Image out = image;
    const cv::Mat from(image.height, image.width, CV_8UC3, const_cast<std::uint8_t*>(image.samples.data()));
    cv::Mat to(out.height, out.width, CV_8UC3, out.samples.data());
    const double cosine = std::cos(turn_rad), sine = std::sin(turn_rad);
    const double cx = (image.width - 1) / 2.0, cy = (image.height - 1) / 2.0;
    const cv::Matx23d way(cosine, -sine, cx - cosine * cx + sine * cy + x, sine, cosine,
                          cy - sine * cx - cosine * cy + y);
    cv::warpAffine(from, to, way, to.size(), cv::INTER_CUBIC, cv::BORDER_REPLICATE);
    return out;
}

}  // namespace quarterturn::test
