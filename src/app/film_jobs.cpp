#include "app/film_jobs.hpp"

#include "app/film_source.hpp"
#include "app/joint_track.hpp"
#include "journal/cache.hpp"
#include "journal/clip_files.hpp"
#include "media/fingerprint_of.hpp"
#include "share/measure.hpp"

namespace quarterturn::app {
namespace {

constexpr const char* index_key = "index-1";

journal::Hash hasher(const std::stop_token& stop) {
    return [stop](const std::filesystem::path& path) { return media::fingerprint_of(path, stop); };
}

std::optional<rules::RuleSet> rules_of(const KnownClip& known) {
    const auto* session = known.library->find_session(known.clip.session);
    const auto* season = session != nullptr ? known.library->find_season(session->season) : nullptr;
    if (season == nullptr) return std::nullopt;
    auto rules = share::rule_set_of(known.store, *season);
    return rules ? std::optional(std::move(*rules)) : std::nullopt;
}

// What the library knows about the clip is laid over what the film says about itself.
void add_knowledge(OpenClip& clip, const KnownClip& known) {
    clip.in_library = true;
    clip.filmed = filmed_of(known.clip);
    clip.session = known.clip.session;
    clip.time_scale = known.clip.time_scale;
    clip.info.rotation_deg = clip.filmed.rotation_deg.value_or(clip.file_rotation_deg);
    clip.rules = rules_of(known);
    clip.measured = share::cached_analysis(known.store, *known.library, known.clip, {});
}

void post_joints(NewsBox& news, const KnownClip& known) {
    if (auto track = cached_joints(known))
        news.post(JointsFound{known.clip.fingerprint(), filmed_of(known.clip), std::move(track)});
}

Result<media::FrameIndex> index_of(const std::filesystem::path& file, const std::string& fingerprint,
                                   const std::optional<journal::Cache>& cache, const std::stop_token& stop) {
    if (cache && !fingerprint.empty())
        if (const auto bytes = cache->read(journal::CacheKind::frame_index, fingerprint, index_key))
            if (auto index = media::load_index(*bytes)) return index;
    auto index = media::build_index(file, stop);
    // The cache only saves time.
    if (index && cache && !fingerprint.empty())
        (void)cache->write(journal::CacheKind::frame_index, fingerprint, index_key, media::save_index(*index))
            .has_value();
    return index;
}

}  // namespace

void open_film(NewsBox& news, const std::filesystem::path& given, const std::string& fingerprint, const LibraryNow& now,
               const std::stop_token& stop) {
    const auto known = known_clip(fingerprint, now.folder, now.library);
    const auto fail = [&](const Error& error) {
        if (error.code != ErrorCode::cancelled) news.post(Said{error.detail, true});
    };
    OpenClip clip;
    clip.file = given;
    if (known)
        if (auto place = journal::find_clip_file(known->store.folder(), known->clip, {}, hasher(stop)))
            clip.file = std::move(*place);
    clip.fingerprint = fingerprint;
    auto info = media::probe(clip.file);
    if (!info) return fail(info.error());
    clip.info = std::move(*info);
    clip.file_rotation_deg = clip.info.rotation_deg;
    std::optional<journal::Cache> cache;
    if (known) cache.emplace(known->store.cache_folder());
    auto index = index_of(clip.file, fingerprint, cache, stop);
    if (!index) return fail(index.error());
    clip.index = std::make_shared<const media::FrameIndex>(*index);
    auto reader = media::ExactReader::open(clip.file, {}, std::move(*index));
    if (!reader) return fail(reader.error());
    if (known) add_knowledge(clip, *known);
    if (stop.stop_requested()) return;
    const std::filesystem::path file = clip.file;
    news.post(FilmOpened{std::move(clip), std::make_shared<ReaderSource>(std::move(*reader))});
    if (known) return post_joints(news, *known);
    // Hashing a long film takes a while: the picture is on screen meanwhile.
    if (auto hash = media::fingerprint_of(file, stop)) news.post(Fingerprinted{file, *hash});
}

void make_stills(NewsBox& news, const std::filesystem::path& file, const share::Upright& upright,
                 const std::vector<std::int64_t>& pts, const std::stop_token& stop) {
    auto reader = media::ExactReader::open(file, {.threads = 1, .cache_mib = 32});
    if (!reader) return;
    for (const std::int64_t at : pts) {
        if (stop.stop_requested()) return;
        const auto rank = reader->index().rank_at(at);
        if (!rank) continue;
        const auto picture = reader->frame_of_rank(*rank);
        if (!picture) continue;
        if (auto image = share::upright_image(*picture, reader->info(), upright, 200))
            news.post(StillMade{file, at, upright, std::move(*image)});
    }
}

void measure(NewsBox& news, const std::filesystem::path& file, const std::string& fingerprint, const LibraryNow& now,
             const Progress& progress, const std::stop_token& stop) {
    share::MeasureSettings settings;
    settings.stop = stop;
    settings.progress = progress;
    const auto known = known_clip(fingerprint, now.folder, now.library);
    share::FilmKnowledge bare;
    bare.fingerprint = fingerprint;
    auto analysis = known ? share::measure_clip(known->store, *known->library, known->clip, settings)
                          : share::measure_film(file, bare, settings);
    if (!analysis) {
        if (analysis.error().code != ErrorCode::cancelled) news.post(Said{analysis.error().detail, true});
        return;
    }
    const Filmed filmed = known ? filmed_of(known->clip) : Filmed{};
    for (const std::string& warning : analysis->clip.warnings) news.post(Said{warning});
    news.post(Measured{fingerprint, std::move(*analysis), filmed});
    if (auto track = measure_joints(file, known, stop)) news.post(JointsFound{fingerprint, filmed, std::move(track)});
}

void look_up(NewsBox& news, const std::string& fingerprint, const LibraryNow& now) {
    const auto known = known_clip(fingerprint, now.folder, now.library);
    if (!known) return;
    news.post(LookedUp{fingerprint, filmed_of(known->clip), rules_of(*known),
                       share::cached_analysis(known->store, *known->library, known->clip, {})});
    post_joints(news, *known);
}

void check_measured(NewsBox& news, const LibraryNow& now) {
    if (!now.library) return;
    if (const auto store = journal::Store::open(now.folder))
        news.post(MeasuredChecked{share::measured_states(*store, *now.library, {})});
}

}  // namespace quarterturn::app
