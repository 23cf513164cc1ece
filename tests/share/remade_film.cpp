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

namespace {

cv::Mat matrix(const media::Image& image) {
    return {image.height, image.width, CV_8UC3, const_cast<std::uint8_t*>(image.samples.data())};
}

media::Image image_of(const cv::Mat& matrix) {
    const cv::Mat whole = matrix.isContinuous() ? matrix : matrix.clone();
    return {whole.cols, whole.rows, 3, std::vector<std::uint8_t>(whole.datastart, whole.dataend)};
}

}  // namespace

std::vector<media::Image> pictures_of(const std::filesystem::path& source, double from_s, double to_s, int every) {
    auto reader = media::LinearReader::open(source, {.threads = 1});
    REQUIRE(reader);
    std::vector<media::Image> all;
    std::optional<std::int64_t> first;
    for (int count = 0;; ++count) {
        const auto picture = reader->next();
        REQUIRE(picture);
        if (!*picture) break;
        if (!first) first = (*picture)->pts;
        const double t_s = seconds_between(*first, (*picture)->pts, reader->info().time_base);
        if (t_s >= to_s) break;
        if (t_s < from_s || count % every != 0) continue;
        auto rgb = media::to_rgb(**picture, reader->info());
        REQUIRE(rgb);
        all.push_back(std::move(*rgb));
    }
    return all;
}

void write_film(const std::filesystem::path& film, const std::vector<media::Image>& pictures, int rate_hz,
                int rotation_deg) {
    REQUIRE(!pictures.empty());
    media::FilmSettings settings;
    settings.width = pictures.front().width;
    settings.height = pictures.front().height;
    settings.rotation_deg = rotation_deg;
    settings.threads = 1;
    auto writer = media::FilmWriter::create(film, settings);
    REQUIRE(writer);
    for (std::size_t i = 0; i < pictures.size(); ++i)
        REQUIRE(writer->add(pictures[i], static_cast<std::int64_t>(i) * 90000 / rate_hz));
    REQUIRE(writer->finish());
}

media::Image lying(const media::Image& image, int rotation_deg) {
    cv::Mat out;
    const int code = rotation_deg == 180  ? cv::ROTATE_180
                     : rotation_deg == 90 ? cv::ROTATE_90_COUNTERCLOCKWISE
                                          : cv::ROTATE_90_CLOCKWISE;
    cv::rotate(matrix(image), out, code);
    return image_of(out);
}

media::Image resized(const media::Image& image, int width, int height) {
    cv::Mat out;
    cv::resize(matrix(image), out, {width, height}, 0, 0, width < image.width ? cv::INTER_AREA : cv::INTER_LINEAR);
    return image_of(out);
}

media::Image side_by_side(const media::Image& left, const media::Image& right) {
    cv::Mat out;
    cv::hconcat(matrix(left), matrix(right), out);
    return image_of(out);
}

media::Image mirror_image(const media::Image& image) {
    cv::Mat out;
    cv::flip(matrix(image), out, 1);
    out.convertTo(out, -1, 0.7, 20);
    return image_of(out);
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
