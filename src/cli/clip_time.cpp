#include "cli/clip_time.hpp"

#include <fmt/format.h>

#include "journal/cache.hpp"
#include "journal/clip_files.hpp"
#include "media/fingerprint_of.hpp"

namespace quarterturn::cli {

Result<ClipTime> ClipTime::open(const OpenLibrary& library, const journal::Clip& clip) {
    constexpr std::string_view key = "index";
    const journal::Cache cache{library.store.cache_folder()};
    if (const auto bytes = cache.read(journal::CacheKind::frame_index, clip.id, key)) {
        if (auto index = media::load_index(*bytes)) return ClipTime{std::move(*index), clip.time_scale};
    }
    const auto file = journal::find_clip_file(library.store.folder(), clip, {},
                                              [](const auto& path) { return media::fingerprint_of(path); });
    if (!file) return file.error();
    auto index = media::build_index(*file);
    if (!index) return index.error();
    // The cache only saves time; a library for reading only works without it.
    (void)cache.write(journal::CacheKind::frame_index, clip.id, key, media::save_index(*index)).has_value();
    return ClipTime{std::move(*index), clip.time_scale};
}

Result<std::int64_t> ClipTime::pts_at(double seconds) const {
    if (index_.pictures.empty()) return Error{ErrorCode::bad_input, "The film has no pictures."};
    const double length = index_.duration_s() * time_scale_;
    if (!(seconds >= 0) || seconds > length)
        return Error{ErrorCode::bad_input,
                     fmt::format("{:.2f} s is outside the film, which is {:.2f} s long.", seconds, length)};
    const auto tick = nearest_tick(seconds / time_scale_, index_.time_base, index_.pictures.front().pts);
    return index_.pictures[index_.rank_at(tick).value_or(0)].pts;
}

double ClipTime::seconds_of(std::int64_t pts) const {
    if (index_.pictures.empty()) return 0;
    return seconds_between(index_.pictures.front().pts, pts, index_.time_base) * time_scale_;
}

}  // namespace quarterturn::cli
