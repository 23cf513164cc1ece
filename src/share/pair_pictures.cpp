#include "compare/laid_over.hpp"
#include "compare/light_match.hpp"
#include "media/exact_reader.hpp"
#include "share/side_by_side.hpp"

namespace quarterturn::share {
namespace {

struct OpenFilm {
    std::size_t rank = 0;
    media::ExactReader reader;
    media::ClipInfo info;  ///< turned as the person said
};

/// As it is shown, mirrored back; size of the landmarks' picture times `scale`.
Result<media::Image> shown_image(OpenFilm& film, const posing::ClipFacts& clip, std::int64_t pts, int max_height) {
    const auto rank = film.reader.index().rank_nearest(pts);
    if (!rank) return Error{ErrorCode::not_found, "The film holds no picture."};
    const auto picture = film.reader.frame_of_rank(*rank);
    if (!picture) return picture.error();
    auto image = media::to_rgb(*picture, film.info, max_height);
    if (!image || !clip.mirrored) return image;
    return compare::laid_over(*image, {-1, 0, static_cast<double>(image->width), 0, 1, 0}, image->width, image->height);
}

/// Fitted into the frame, in its middle.
compare::Affine fitted(const media::Image& image, int width, int height) {
    const double scale = std::min(static_cast<double>(width) / image.width, static_cast<double>(height) / image.height);
    return compare::scaled(scale, scale, (width - scale * image.width) / 2, (height - scale * image.height) / 2);
}

}  // namespace

struct PairPictures::Films {
    const ComparedSide& now_side;
    const ComparedSide& before_side;
    std::optional<OpenFilm> now, before;

    static Result<OpenFilm*> open(const ComparedSide& side, std::size_t rank, std::optional<OpenFilm>& slot) {
        if (slot && slot->rank == rank) return &*slot;
        slot.reset();
        auto reader = media::ExactReader::open(side.films[rank].film, {.threads = 0, .cache_mib = 32});
        if (!reader) return reader.error();
        auto info = reader->info().turned_to(side.films[rank].rotation_deg);
        slot.emplace(OpenFilm{rank, std::move(*reader), std::move(info)});
        return &*slot;
    }
};

PairPictures::PairPictures(const ComparedSide& now, const ComparedSide& before)
    : films_(new Films{now, before, std::nullopt, std::nullopt}) {}
PairPictures::~PairPictures() = default;

Result<PairImages> PairPictures::of(const compare::Comparison& comparison, const compare::PairComparison& made,
                                    int max_height, bool match_light) {
    const compare::Pair& pair = made.pair;
    const auto now_film = Films::open(films_->now_side, pair.now.take, films_->now);
    if (!now_film) return now_film.error();
    const auto before_film = Films::open(films_->before_side, pair.before.take, films_->before);
    if (!before_film) return before_film.error();
    const compare::Take &now_take = comparison.now[pair.now.take], &before_take = comparison.before[pair.before.take];
    auto now = shown_image(**now_film, now_take.analysis->clip, pair.now_still_pts, max_height);
    if (!now) return now.error();
    auto before = shown_image(**before_film, before_take.analysis->clip, pair.before_still_pts, 0);
    if (!before) return before.error();

    const double now_scale = static_cast<double>(now->height) / (**now_film).info.shown_height();
    if (match_light) {
        const auto a = compare::still_body(now_take, pair.now_still_s);
        const auto b = compare::still_body(before_take, pair.before_still_s);
        const auto gains = a && b ? compare::match_light(*now, *a, now_scale, *before, *b, 1) : std::nullopt;
        if (gains) compare::apply_light(*before, *gains);
    }
    PairImages images;
    images.aligned = made.alignment.has_value();
    const compare::Affine map =
        made.alignment ? compare::after(made.alignment->before_to_now.matrix(), compare::scaled(now_scale, now_scale))
                       : fitted(*before, now->width, now->height);
    images.before = compare::laid_over(*before, map, now->width, now->height);
    if (const auto b = compare::still_body(before_take, pair.before_still_s)) {
        const auto pelvis = body::middle((*b)[body::Joint::left_hip], (*b)[body::Joint::right_hip]);
        images.before_pelvis = compare::Point{map[0] * pelvis.x + map[1] * pelvis.y + map[2],
                                              map[3] * pelvis.x + map[4] * pelvis.y + map[5]};
    }
    images.now = std::move(*now);
    return images;
}

}  // namespace quarterturn::share
