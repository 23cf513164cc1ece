#include <fmt/format.h>

#include <algorithm>

#include "body/clip_landmarks.hpp"
#include "body/film_facts.hpp"
#include "body/model_files.hpp"
#include "body/shake_record.hpp"
#include "journal/cache.hpp"
#include "media/fingerprint_of.hpp"
#include "media/frame_index.hpp"
#include "media/probe.hpp"
#include "posing/trunk_measures.hpp"
#include "share/measure_method.hpp"

namespace quarterturn::share {
namespace {

/// Pictures looked at per true second.
constexpr double landmark_rate_hz = 15;

/// Keeps the series for whoever draws it over the picture. The cache only saves time; measuring goes on without it.
void keep_series(const body::LandmarkSeries& series, const FilmKnowledge& knowledge, const std::string& fingerprint,
                 const MeasureSettings& settings) {
    if (settings.cache_folder.empty()) return;
    const journal::Cache cache{settings.cache_folder};
    (void)cache
        .write(journal::CacheKind::landmarks, fingerprint, landmark_key(knowledge, settings), body::save_series(series))
        .has_value();
}

/// Each sentence once, whoever noticed it.
std::vector<std::string> all_warnings(const std::vector<const std::vector<std::string>*>& lists) {
    std::vector<std::string> all;
    for (const auto* list : lists) {
        for (const auto& sentence : *list) {
            if (std::find(all.begin(), all.end(), sentence) == all.end()) all.push_back(sentence);
        }
    }
    return all;
}

std::vector<std::int64_t> pts_of(const media::FrameIndex& index) {
    std::vector<std::int64_t> pts;
    for (const auto& picture : index.pictures) pts.push_back(picture.pts);
    return pts;
}

}  // namespace

std::optional<double> bits_per_pixel(const media::ClipInfo& info, const media::FrameIndex& index) {
    if (index.pictures.empty()) return std::nullopt;
    const double lasts_s =
        seconds_between(index.pictures.front().pts, index.pictures.back().pts, index.time_base) + 1.0 / 30;
    const double counted = std::min(static_cast<double>(index.pictures.size()), 30 * lasts_s);
    const double pixels = counted * info.width * info.height;
    if (!(pixels > 0)) return std::nullopt;
    return 8.0 * static_cast<double>(info.file_bytes) / pixels;
}

std::string athlete_words(const FilmKnowledge& knowledge) {
    if (!knowledge.athlete_at) return "";
    const journal::AthleteShown& at = *knowledge.athlete_at;
    return fmt::format("-shown{}-{}-{}-{:.4f}-{:.4f}", at.pts, at.base.num, at.base.den, at.x, at.y);
}

std::string landmark_key(const FilmKnowledge& knowledge, const MeasureSettings& settings) {
    std::string key = fmt::format("{}-{}", body::name_of(settings.model_size.value_or(body::ModelSize::full)),
                                  body::landmark_version());
    if (knowledge.rotation_deg) key += fmt::format("-turned{}", *knowledge.rotation_deg);
    key += athlete_words(knowledge);
    if (knowledge.time_scale != 1) key += fmt::format("-speed{:.9g}", knowledge.time_scale);
    std::replace(key.begin(), key.end(), '/', '_');  // a version has one, a key must not
    return key;
}

std::optional<body::LandmarkSeries> cached_landmarks(const journal::Store& store, const journal::Library& library,
                                                     const journal::Clip& clip, const MeasureSettings& settings) {
    const auto known = knowledge_of(store, library, clip);
    if (!known) return std::nullopt;
    const auto bytes = journal::Cache{store.cache_folder()}.read(
        journal::CacheKind::landmarks, clip.fingerprint(), landmark_key(*known, with_choices_of(library, settings)));
    if (!bytes) return std::nullopt;
    auto series = body::load_series(*bytes);
    return series ? std::optional{std::move(*series)} : std::nullopt;
}

Result<body::LandmarkSeries> film_landmarks(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                            const MeasureSettings& settings) {
    const auto read = read_film(film, knowledge, settings);
    if (!read) return read.error();
    auto seen = look_at(film, *read, settings, Trunk::not_needed);
    if (!seen) return seen.error();
    keep_series(seen->series, knowledge, read->clip.fingerprint, settings);
    return std::move(seen->series);
}

Result<FilmRead> read_film(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                           const MeasureSettings& settings) {
    const auto probed = media::probe(film);
    if (!probed) return probed.error();
    const media::ClipInfo info = probed->turned_to(knowledge.rotation_deg);
    auto index = media::build_index(film, settings.stop);
    if (!index) return index.error();
    const auto fingerprint = knowledge.fingerprint.empty() ? media::fingerprint_of(film, settings.stop)
                                                           : Result<std::string>{knowledge.fingerprint};
    if (!fingerprint) return fingerprint.error();
    FilmRead read;
    read.rotation_deg = knowledge.rotation_deg;
    read.tilt_deg = knowledge.tilt_deg;
    if (const auto& at = knowledge.athlete_at)
        read.athlete = body::AthleteClick{
            seconds_between(read.clip.first_pts, rescale(at->pts, at->base, info.time_base), info.time_base),
            {at->x * info.shown_width(), at->y * info.shown_height()}};
    read.clip = body::film_facts(film, info, pts_of(*index), knowledge.time_scale, knowledge.mirrored);
    read.clip.fingerprint = *fingerprint;
    read.clip.warnings = all_warnings({&info.warnings, &index->warnings});
    read.bits_per_pixel = bits_per_pixel(info, *index);
    read.index = std::move(*index);
    return read;
}

Result<FilmSeen> look_at(const std::filesystem::path& film, const FilmRead& read, const MeasureSettings& settings,
                         Trunk trunk_pictures) {
    const auto models = chosen_models(settings);
    if (!models) return models.error();
    body::LandmarkSettings look;
    look.rate_hz = landmark_rate_hz * read.clip.time_scale;
    look.rotation_deg = read.rotation_deg;
    look.athlete = read.athlete;
    look.jobs = settings.jobs;
    look.progress = settings.progress;
    look.tracker.masks = trunk_pictures == Trunk::kept;
    if (trunk_pictures == Trunk::kept)
        look.observe = [tilt = read.tilt_deg.value_or(0)](std::size_t) {
            return std::make_unique<body::PartRecord>(tilt);
        };
    auto clip = body::clip_landmarks(film, read.index, *models, look, settings.stop);
    if (!clip) return clip.error();
    auto trunk = body::take_torso_pictures(clip->parts);
    auto shake = body::shake_of(clip->parts, {read.clip.first_pts, read.clip.time_base, read.clip.time_scale});
    return FilmSeen{std::move(clip->series), std::move(trunk), std::move(shake)};
}

posing::Analysis analyse_seen(const FilmRead& read, const FilmSeen& seen, const FilmKnowledge& knowledge) {
    body::ClipFacts facts = read.clip;
    facts.warnings = all_warnings({&read.clip.warnings, &seen.series.warnings});
    posing::LandmarkInput input{facts, seen.series, pts_of(read.index), seen.shake, knowledge.tilt_deg};
    auto found = posing::analyse_landmarks(input, knowledge.rule_set, analyse_settings(knowledge));
    posing::measure_trunk(found, input, seen.trunk, read.bits_per_pixel);
    posing::refresh_checks(found.analysis, found.seen, knowledge.rule_set);
    return std::move(found.analysis);
}

Result<posing::Analysis> measure_landmarks(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                           const MeasureSettings& settings) {
    const auto read = read_film(film, knowledge, settings);
    if (!read) return read.error();
    const auto seen = look_at(film, *read, settings);
    if (!seen) return seen.error();
    keep_series(seen->series, knowledge, read->clip.fingerprint, settings);
    return analyse_seen(*read, *seen, knowledge);
}

}  // namespace quarterturn::share
