#include "rendered.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <opencv2/imgproc.hpp>

#include "media/film_writer.hpp"

namespace quarterturn::body {

sample::Script sample_script(std::string_view name) {
    auto script = sample::load_script(std::filesystem::path{QUARTERTURN_SOURCE_DIR} / "sample_clips/scripts" / name);
    REQUIRE_MESSAGE(script, script.error().detail);
    return std::move(script).value();
}

void write_drifting_film(const std::filesystem::path& path, const media::Image& still, int pictures) {
    const cv::Size size{240, 426};
    cv::Mat whole{still.height, still.width, CV_8UC3, const_cast<std::uint8_t*>(still.samples.data())};
    cv::Mat small;
    cv::resize(whole, small, size, 0, 0, cv::INTER_AREA);
    media::FilmSettings settings;
    settings.width = size.width;
    settings.height = size.height;
    settings.threads = 1;
    auto writer = media::FilmWriter::create(path, settings);
    REQUIRE_MESSAGE(writer, writer.error().detail);
    for (int i = 0; i < pictures; ++i) {
        const double t_s = i / 10.0;
        const double aside = t_s > 6 && t_s < 9 ? 30 * std::sin((t_s - 6) / 3 * 3.14159) : 0;
        const cv::Mat shift = (cv::Mat_<double>(2, 3) << 1, 0, std::sin(3 * t_s) + aside, 0, 1, 0);
        cv::Mat moved;
        cv::warpAffine(small, moved, shift, size, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
        media::Image image{size.width, size.height, 3, {moved.datastart, moved.dataend}};
        REQUIRE(writer->add(image, i * 9000));
    }
    REQUIRE(writer->finish());
}

}  // namespace quarterturn::body
