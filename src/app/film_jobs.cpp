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

// What the library knows about the clip is laid over what the film says about itself.
void add_knowledge(OpenClip& clip, const journal::Store& store, const std::string& fingerprint) {
    const auto library = store.read();
    const auto* entry = library ? library->find_clip(fingerprint) : nullptr;
    if (entry == nullptr) return;
    clip.in_library = true;
    clip.session = entry->session;
    clip.time_scale = entry->time_scale;
    if (entry->rotation_deg) clip.info.rotation_deg = *entry->rotation_deg;
    if (const auto* session = library->find_session(entry->session))
        if (const auto* season = library->find_season(session->season))
            if (auto rules = share::rule_set_of(store, *season)) clip.rules = std::move(*rules);
    clip.measured = share::cached_analysis(store, *library, *entry, {});
}

std::filesystem::path found(const std::filesystem::path& file, const std::string& fingerprint,
                            const journal::Store& store, const std::stop_token& stop) {
    const auto library = store.read();
    const auto* entry = library ? library->find_clip(fingerprint) : nullptr;
    if (entry == nullptr) return file;
    const auto place = journal::find_clip_file(store.folder(), *entry, {}, hasher(stop));
    return place ? *place : file;
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

void open_film(NewsBox& news, const std::filesystem::path& given, const std::string& fingerprint,
               const std::filesystem::path& library_folder, const std::stop_token& stop) {
    std::optional<journal::Store> store;
    if (!library_folder.empty())
        if (auto opened = journal::Store::open(library_folder)) store = std::move(*opened);
    const auto fail = [&](const Error& error) {
        if (error.code != ErrorCode::cancelled) news.post(Said{error.detail, true});
    };
    OpenClip clip;
    clip.file = store && !fingerprint.empty() ? found(given, fingerprint, *store, stop) : given;
    clip.fingerprint = fingerprint;
    auto info = media::probe(clip.file);
    if (!info) return fail(info.error());
    clip.info = std::move(*info);
    std::optional<journal::Cache> cache;
    if (store) cache.emplace(store->cache_folder());
    auto index = index_of(clip.file, fingerprint, cache, stop);
    if (!index) return fail(index.error());
    clip.index = std::make_shared<const media::FrameIndex>(*index);
    auto reader = media::ExactReader::open(clip.file, {}, std::move(*index));
    if (!reader) return fail(reader.error());
    if (store && !fingerprint.empty()) add_knowledge(clip, *store, fingerprint);
    if (stop.stop_requested()) return;
    const std::filesystem::path file = clip.file;
    news.post(FilmOpened{std::move(clip), std::make_shared<ReaderSource>(std::move(*reader))});
    if (!fingerprint.empty()) return find_joints(news, fingerprint, library_folder);
    // Hashing a long film takes a while: the picture is on screen meanwhile.
    if (auto hash = media::fingerprint_of(file, stop)) news.post(Fingerprinted{file, *hash});
}

void make_stills(NewsBox& news, const std::filesystem::path& file, const std::vector<std::int64_t>& pts,
                 const std::stop_token& stop) {
    auto reader = media::ExactReader::open(file, {.threads = 1, .cache_mib = 32});
    if (!reader) return;
    for (const std::int64_t at : pts) {
        if (stop.stop_requested()) return;
        const auto rank = reader->index().rank_at(at);
        if (!rank) continue;
        const auto picture = reader->frame_of_rank(*rank);
        if (!picture) continue;
        if (auto image = media::to_rgb(*picture, reader->info(), 200))
            news.post(StillMade{file, at, std::move(*image)});
    }
}

void measure(NewsBox& news, const std::filesystem::path& file, const std::string& fingerprint,
             const std::filesystem::path& library_folder, const Progress& progress, const std::stop_token& stop) {
    share::MeasureSettings settings;
    settings.stop = stop;
    settings.progress = progress;
    std::optional<Result<posing::Analysis>> analysis;
    if (!library_folder.empty())
        if (auto store = journal::Store::open(library_folder))
            if (const auto library = store->read())
                if (const auto* clip = library->find_clip(fingerprint))
                    analysis = share::measure_clip(*store, *library, *clip, settings);
    if (!analysis) {
        share::FilmKnowledge knowledge;
        knowledge.fingerprint = fingerprint;
        analysis = share::measure_film(file, knowledge, settings);
    }
    if (!*analysis) {
        if (analysis->error().code != ErrorCode::cancelled) news.post(Said{analysis->error().detail, true});
        return;
    }
    for (const std::string& warning : (*analysis)->clip.warnings) news.post(Said{warning});
    news.post(Measured{fingerprint, std::move(**analysis)});
    if (auto track = measure_joints(file, fingerprint, library_folder, stop))
        news.post(JointsFound{fingerprint, std::move(track)});
}

void find_joints(NewsBox& news, const std::string& fingerprint, const std::filesystem::path& library_folder) {
    if (auto track = cached_joints(fingerprint, library_folder)) news.post(JointsFound{fingerprint, std::move(track)});
}

}  // namespace quarterturn::app
