#pragma once
/// A plain figure of thick lines, moved by key postures with minimum-jerk blends: small films whose true joints are
/// known, drawn independently of the demo films' generator.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <opencv2/imgproc.hpp>
#include <random>
#include <vector>

#include "media/film_writer.hpp"

namespace quarterturn::test {

/// Angles in degrees from hanging straight down, outwards positive; index 0 left in the picture, 1 right.
struct FigurePosture {
    double upper_arm[2] = {12, 12};
    double forearm[2] = {10, 10};
    double leg[2] = {5, 5};
    double half_turn = 1;  ///< shoulder and hip width, 1 front, about 0.45 side
    double sideways = 0;   ///< of everything above the feet, body heights
    double lower = 0;      ///< knees bent: body heights the pelvis sinks
};

struct KeyPosture {
    double at_s = 0;    ///< the movement into it begins
    double move_s = 0;  ///< and lasts this long
    FigurePosture posture;
};

struct FigureFilm {
    int width = 216, height = 384;
    double rate = 30;
    double length_s = 10;
    std::vector<KeyPosture> keys;
    std::function<FigurePosture(double t, FigurePosture)> disturb;  ///< added on top
    std::function<cv::Point2d(double t)> camera;                    ///< shift of the whole picture, px
    std::function<double(double t)> brightness;                     ///< factor
    std::function<cv::Point3d(double t)> place;                     ///< x, y of the feet, height; all in px
    std::function<bool(double t)> present;                          ///< absent: always
    double noise = 1.5;                                             ///< RMS of 255
    bool clutter = false;
};

/// Pixel positions: shoulders, elbows, wrists, hips, knees, ankles, each left then right (the order of posing::Joint).
using FigureJoints = std::array<cv::Point2d, 12>;

inline FigurePosture blend(const FigurePosture& a, const FigurePosture& b, double s) {
    s = std::clamp(s, 0.0, 1.0);
    s = s * s * s * (10 + s * (6 * s - 15));  // minimum jerk, Flash and Hogan 1985
    const auto mix = [s](double from, double to) { return from + (to - from) * s; };
    FigurePosture out;
    for (std::size_t i = 0; i < 2; ++i) {
        out.upper_arm[i] = mix(a.upper_arm[i], b.upper_arm[i]);
        out.forearm[i] = mix(a.forearm[i], b.forearm[i]);
        out.leg[i] = mix(a.leg[i], b.leg[i]);
    }
    out.half_turn = mix(a.half_turn, b.half_turn);
    out.sideways = mix(a.sideways, b.sideways);
    out.lower = mix(a.lower, b.lower);
    return out;
}

inline FigurePosture posture_at(const FigureFilm& film, double t) {
    FigurePosture posture = film.keys.front().posture;
    for (std::size_t i = 1; i < film.keys.size(); ++i)
        if (t > film.keys[i].at_s)
            posture = blend(posture, film.keys[i].posture, (t - film.keys[i].at_s) / film.keys[i].move_s);
    return film.disturb ? film.disturb(t, posture) : posture;
}

inline cv::Point3d place_at(const FigureFilm& film, double t) {
    return film.place ? film.place(t) : cv::Point3d(film.width * 0.5, film.height * 0.92, film.height * 0.62);
}

inline FigureJoints joints_at(const FigureFilm& film, double t) {
    const FigurePosture p = posture_at(film, t);
    const cv::Point3d place = place_at(film, t);
    const double h = place.z;
    // Segment lengths over height: Drillis and Contini 1966.
    const auto hang = [h](cv::Point2d from, double length, double degrees, double side) {
        const double a = degrees * CV_PI / 180;
        return cv::Point2d(from.x + side * length * h * std::sin(a), from.y + length * h * std::cos(a));
    };
    FigureJoints j;
    const double x = place.x + p.sideways * h;
    for (std::size_t i = 0; i < 2; ++i) {
        const double side = i == 0 ? -1 : 1;
        j[0 + i] = {x + side * 0.13 * h * p.half_turn, place.y - (0.818 - p.lower) * h};
        j[2 + i] = hang(j[0 + i], 0.186, p.upper_arm[i], side);
        j[4 + i] = hang(j[2 + i], 0.146, p.forearm[i], side);
        j[6 + i] = {x + side * 0.07 * h * p.half_turn, place.y - (0.53 - p.lower) * h};
        j[10 + i] = {place.x + side * (0.07 * h * p.half_turn + 0.49 * h * std::sin(p.leg[i] * CV_PI / 180)),
                     place.y - 0.04 * h};
        j[8 + i] = (j[6 + i] + j[10 + i]) / 2 + cv::Point2d(side * 0.8 * p.lower * h, 0);
    }
    return j;
}

inline void draw_limb(cv::Mat& picture, cv::Point2d a, cv::Point2d b, double width, double grey) {
    const auto fixed = [](cv::Point2d p) { return cv::Point(cvRound(p.x * 16), cvRound(p.y * 16)); };
    for (int layer = 0; layer < 3; ++layer) {  // lighter towards the middle
        const double tone = grey * (0.8 + 0.12 * layer);
        cv::line(picture, fixed(a), fixed(b), cv::Scalar(tone, tone * 0.85, tone * 0.7),
                 std::max(1, cvRound(width * (1 - 0.3 * layer))), cv::LINE_AA, 4);
    }
}

inline cv::Mat empty_room(const FigureFilm& film, cv::Point2d shift) {
    cv::Mat room(film.height, film.width, CV_8UC3);
    for (int y = 0; y < film.height; ++y)
        for (int x = 0; x < film.width; ++x) {
            const double u = x - shift.x;
            const double v = y - shift.y;
            double tone = v > 0.86 * film.height ? 90 : 165 + 0.08 * u - 0.03 * v;
            if (film.clutter) tone += 30 * std::sin(u * 0.19) * std::sin(v * 0.13);
            const auto level = static_cast<std::uint8_t>(std::clamp(tone, 0.0, 255.0));
            room.at<cv::Vec3b>(y, x) = {level, level, level};
        }
    cv::rectangle(room, cv::Rect2d(0.08 * film.width + shift.x, 0.2 * film.height + shift.y, 30, 60), {70, 80, 90}, -1);
    return room;
}

inline cv::Mat picture_of(const FigureFilm& film, double t) {
    const cv::Point2d shift = film.camera ? film.camera(t) : cv::Point2d();
    cv::Mat picture = empty_room(film, shift);
    if (!film.present || film.present(t)) {
        FigureJoints j = joints_at(film, t);
        for (cv::Point2d& p : j) p += shift;
        const double h = place_at(film, t).z;
        for (std::size_t i = 0; i < 2; ++i) {
            draw_limb(picture, j[6 + i], j[8 + i], 0.085 * h, 205);
            draw_limb(picture, j[8 + i], j[10 + i], 0.06 * h, 195);
        }
        const cv::Point2d chest = (j[0] + j[1]) / 2;
        const cv::Point2d pelvis = (j[6] + j[7]) / 2;
        draw_limb(picture, chest + cv::Point2d(0, 0.05 * h), pelvis, std::abs(j[1].x - j[0].x) * 0.8, 200);
        draw_limb(picture, pelvis - cv::Point2d(0, 0.03 * h), pelvis, std::abs(j[1].x - j[0].x) * 0.75, 60);
        draw_limb(picture, j[0], j[1], 0.07 * h, 210);
        draw_limb(picture, chest, chest - cv::Point2d(0, 0.1 * h), 0.06 * h, 190);
        draw_limb(picture, chest - cv::Point2d(0, 0.09 * h), chest - cv::Point2d(0, 0.13 * h), 0.09 * h, 180);
        for (std::size_t i = 0; i < 2; ++i) {
            draw_limb(picture, j[0 + i], j[2 + i], 0.055 * h, 215);
            draw_limb(picture, j[2 + i], j[4 + i], 0.045 * h, 220);
        }
    }
    if (film.brightness) picture.convertTo(picture, -1, film.brightness(t));
    return picture;
}

/// Writes the film, 1/90000 s ticks.
inline Status write_figure_film(const FigureFilm& film, const std::filesystem::path& path) {
    media::FilmSettings settings;
    settings.width = film.width;
    settings.height = film.height;
    settings.quality = 12;  // at stronger compression the key pictures pump, and that differs between runs of libx264
    Result<media::FilmWriter> writer = media::FilmWriter::create(path, settings);
    if (!writer) return writer.error();
    std::mt19937 random(7);
    std::normal_distribution<float> noise(0, static_cast<float>(film.noise));
    for (int i = 0; i < static_cast<int>(film.length_s * film.rate); ++i) {
        const cv::Mat picture = picture_of(film, i / film.rate);
        media::Image image{film.width, film.height, 3, {}};
        image.samples.assign(picture.data, picture.data + picture.total() * 3);
        for (std::size_t k = 0; k < image.samples.size(); k += 3) {
            const float n = noise(random);
            for (std::size_t c = 0; c < 3; ++c)
                image.samples[k + c] = cv::saturate_cast<std::uint8_t>(static_cast<float>(image.samples[k + c]) + n);
        }
        if (const Status added = writer->add(image, std::lround(i * 90000 / film.rate)); !added) return added;
    }
    return writer->finish();
}

}  // namespace quarterturn::test
