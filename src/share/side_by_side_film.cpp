#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "compare/light_match.hpp"
#include "compare/placement.hpp"
#include "compare/time_map.hpp"
#include "media/film_picture.hpp"
#include "media/film_writer.hpp"
#include "media/linear_reader.hpp"
#include "share/film_follower.hpp"
#include "share/film_sound.hpp"
#include "share/side_by_side.hpp"
#include "share/title_strip.hpp"

namespace quarterturn::share {
namespace {

using compare::Affine;
using compare::Comparison;
using media::Picture;

constexpr TimeBase film_base{1, 90000};
constexpr double around_pose_s = 1;

struct Chosen {
    std::size_t now = 0, before = 0;
};

/// The two clips with most pairs; of equals the first.
Chosen chosen_takes(const Comparison& comparison) {
    std::map<std::pair<std::size_t, std::size_t>, int> counts;
    for (const auto& made : comparison.pairs) ++counts[{made.pair.now.take, made.pair.before.take}];
    const auto most = std::max_element(counts.begin(), counts.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    return {most->first.first, most->first.second};
}

class Maker {
  public:
    Maker(const ComparedSide& now, const ComparedSide& before, const Comparison& comparison, const SideBySide& how)
        : now_(now),
          before_(before),
          comparison_(comparison),
          how_(how),
          chosen_(chosen_takes(comparison)),
          now_clip_(comparison.now[chosen_.now].analysis->clip),
          before_clip_(comparison.before[chosen_.before].analysis->clip),
          map_(compare::map_times(comparison.now, chosen_.now, comparison.before, chosen_.before, pairs())) {}

    Status make(const std::filesystem::path& out) {
        auto now_reader = media::LinearReader::open(now_.films[chosen_.now].film);
        if (!now_reader) return now_reader.error();
        auto before_reader = media::LinearReader::open(before_.films[chosen_.before].film);
        if (!before_reader) return before_reader.error();
        FilmFollower following(std::move(*before_reader), before_clip_);
        plan(now_reader->info().turned_to(now_.films[chosen_.now].rotation_deg),
             following.info().turned_to(before_.films[chosen_.before].rotation_deg));
        if (Status lit = choose_light(); !lit) return lit;
        if (how_.sound) sound_ = FilmSound::open(now_.films[chosen_.now].film, now_reader->info(), now_clip_, from_s_);
        media::FilmSettings settings;
        settings.width = 2 * panel_width_;
        settings.height = panel_height_ + strip_.height;
        settings.time_base = film_base;
        settings.quality = how_.quality;
        settings.audio_rate_hz = sound_ ? media::sound_rate_hz : 0;
        auto writer = media::FilmWriter::create(out, settings);
        if (!writer) return writer.error();
        if (Status drawn = draw_all(*now_reader, following, *writer); !drawn) return drawn;
        return writer->finish();
    }

  private:
    [[nodiscard]] std::vector<compare::Pair> pairs() const {
        std::vector<compare::Pair> all;
        for (const auto& made : comparison_.pairs) all.push_back(made.pair);
        return all;
    }

    void plan(const media::ClipInfo& now, const media::ClipInfo& before) {
        const int rows = std::min(how_.max_height, now.shown_height());
        panel_height_ = even_size(rows);
        panel_width_ = even_size(static_cast<double>(rows) * now.shown_width() / now.shown_height());
        const Affine to_panel = compare::scaled(static_cast<double>(panel_width_) / now.shown_width(),
                                                static_cast<double>(panel_height_) / now.shown_height());
        now_to_panel_ = compare::after(compare::stored_to_shown(now, now_clip_.mirrored), to_panel);
        before_shown_ = compare::stored_to_shown(before, before_clip_.mirrored);
        shown_to_panel_ = to_panel;
        const double fit = std::min(static_cast<double>(panel_width_) / before.shown_width(),
                                    static_cast<double>(panel_height_) / before.shown_height());
        fitted_ = compare::scaled(fit, fit, (panel_width_ - fit * before.shown_width()) / 2,
                                  (panel_height_ - fit * before.shown_height()) / 2);
        strip_ = title_strip(now_.title, before_.title, panel_width_, panel_height_);
        choose_range();
    }

    void choose_range() {
        from_s_ = now_clip_.duration_s, to_s_ = 0;
        for (const auto& made : comparison_.pairs) {
            if (made.pair.now.take != chosen_.now || made.pair.before.take != chosen_.before) continue;
            const posing::Segment& hold = compare::hold_at(comparison_.now, made.pair.now);
            from_s_ = std::min(from_s_, hold.start_s - around_pose_s);
            to_s_ = std::max(to_s_, hold.end_s + around_pose_s);
        }
        from_s_ = std::max(0.0, from_s_);
    }

    Status choose_light() {
        if (!how_.match_light) return ok();
        PairPictures pictures(now_, before_);
        for (const auto& made : comparison_.pairs) {
            if (made.pair.now.take != chosen_.now || made.pair.before.take != chosen_.before) continue;
            const auto images = pictures.of(comparison_, made, 0, false);
            if (!images) return images.error();
            const auto a = compare::still_body(comparison_.now[chosen_.now], made.pair.now_still_s);
            // Laid over, the earlier body is where the later one is.
            gains_ =
                a && made.alignment ? compare::match_light(images->now, *a, 1, images->before, *a, 1) : std::nullopt;
            if (gains_) break;
        }
        return ok();
    }

    Status draw_all(media::LinearReader& reader, FilmFollower& following, media::FilmWriter& writer) {
        std::int64_t last = -1;
        for (;;) {
            if (how_.stop.stop_requested()) return Error{ErrorCode::cancelled, "Stopped; no film was written."};
            const auto picture = reader.next();
            if (!picture) return picture.error();
            if (!*picture) break;
            const double now_s = compare::seconds_of(now_clip_, (*picture)->pts);
            if (now_s < from_s_ - 1e-6) continue;
            if (now_s > to_s_) break;
            const auto pts = std::llround((now_s - from_s_) * 90000);
            if (pts <= last) continue;
            last = pts;
            if (Status drawn = draw(**picture, now_s, following, pts, writer); !drawn) return drawn;
            if (sound_)
                if (Status given = sound_->give(now_s - from_s_, writer); !given) return given;
            if (how_.progress) how_.progress(std::clamp((now_s - from_s_) / (to_s_ - from_s_), 0.0, 1.0));
        }
        return ok();
    }

    Status draw(const Picture& now, double now_s, FilmFollower& following, std::int64_t pts,
                media::FilmWriter& writer) {
        const double before_s = std::clamp(map_.before_at(now_s), 0.0, before_clip_.duration_s);
        const auto before = following.at(before_s);
        if (!before) return before.error();
        const auto left = media::film_picture(now);
        if (!left) return left.error();
        const auto right = light_matched(**before);
        if (!right) return right.error();
        media::BlankPicture out = media::blank_picture(2 * panel_width_, panel_height_ + strip_.height);
        compare::lay_over(*left, now_to_panel_, {0, 0, panel_width_, panel_height_}, out);
        const auto placed = compare::placement_at(comparison_, chosen_.now, chosen_.before, now_s);
        Affine map = compare::after(before_shown_, placed ? compare::after(*placed, shown_to_panel_) : fitted_);
        map = compare::after(map, compare::scaled(1, 1, panel_width_, 0));
        compare::lay_over(*right, map, {panel_width_, 0, panel_width_, panel_height_}, out);
        divide(out);
        std::copy(strip_.luma.begin(), strip_.luma.end(), out.planes[0] + panel_height_ * out.strides[0]);
        return writer.add(out.picture(pts), pts);
    }

    /// A black line between the two: rooms that look alike would run into each other.
    void divide(media::BlankPicture& out) const {
        for (int y = 0; y < panel_height_; ++y) {
            std::fill_n(out.planes[0] + y * out.strides[0] + panel_width_ - 2, 4, std::uint8_t{16});
            for (const std::size_t plane : {1U, 2U})
                std::fill_n(out.planes[plane] + y / 2 * out.strides[plane] + panel_width_ / 2 - 1, 2,
                            std::uint8_t{128});
        }
    }

    [[nodiscard]] Result<Picture> light_matched(const Picture& picture) const {
        if (!gains_) return media::film_picture(picture);
        media::ClipInfo as_stored;
        as_stored.width = picture.width;
        as_stored.height = picture.height;
        auto rgb = media::to_rgb(picture, as_stored);
        if (!rgb) return rgb.error();
        compare::apply_light(*rgb, *gains_);
        if (rgb->width % 2 == 0 && rgb->height % 2 == 0) return media::film_picture(*rgb);
        const auto cut = compare::laid_over(*rgb, compare::scaled(1, 1), rgb->width / 2 * 2, rgb->height / 2 * 2);
        return media::film_picture(cut);
    }

    const ComparedSide& now_;
    const ComparedSide& before_;
    const Comparison& comparison_;
    const SideBySide& how_;
    Chosen chosen_;
    const posing::ClipFacts& now_clip_;
    const posing::ClipFacts& before_clip_;
    compare::TimeMap map_;
    int panel_width_ = 0, panel_height_ = 0;
    Affine now_to_panel_{}, before_shown_{}, shown_to_panel_{}, fitted_{};
    double from_s_ = 0, to_s_ = 0;
    TitleStrip strip_;
    std::optional<compare::LightGains> gains_;
    std::optional<FilmSound> sound_;
};

bool is_one_of(const ComparedSide& side, const std::filesystem::path& out) {
    std::error_code failure;
    return std::any_of(side.films.begin(), side.films.end(),
                       [&](const ComparedFilm& film) { return std::filesystem::equivalent(film.film, out, failure); });
}

}  // namespace

Status write_side_by_side_film(const ComparedSide& now, const ComparedSide& before, const Comparison& comparison,
                               const SideBySide& how, const std::filesystem::path& out) {
    if (comparison.pairs.empty()) return Error{ErrorCode::bad_input, "No pose is held in both, so there is no film."};
    if (is_one_of(now, out) || is_one_of(before, out))
        return Error{ErrorCode::bad_input,
                     fmt::format("{} is one of the two films. Choose another name for the new one.", out.string())};
    return Maker(now, before, comparison, how).make(out);
}

}  // namespace quarterturn::share
