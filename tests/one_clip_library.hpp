#pragma once
/// A library on disk with one season of women's figure and one session with one clip.
#include <doctest.h>

#include <filesystem>
#include <optional>
#include <string>
#include <utility>

#include "journal/store.hpp"

namespace quarterturn::test {

inline const journal::Author mara{"Mara", journal::Role::athlete};

struct OneClipLibrary {
    journal::Store store;
    std::string session;
    std::string clip;  ///< its fingerprint
};

/// @param folder  made anew
/// @param film    where the clip's film lies; nothing is read from it, it need not exist
inline OneClipLibrary one_clip_library(const std::filesystem::path& folder,
                                       const std::filesystem::path& film = "/films/clip.mp4") {
    auto store = journal::Store::create(folder, "Mara's", mara);
    REQUIRE(store);
    journal::Season season;
    season.title = "Spring";
    season.show_date = *parse_date("2026-05-30");
    season.rule_set = "womens_figure";
    const auto added = store->add_season(season, mara);
    REQUIRE(added);
    journal::ClipFacts facts;
    facts.fingerprint = "sha256:" + std::string(64, 'b');
    facts.path = film;
    std::error_code absent;
    const auto bytes = std::filesystem::file_size(film, absent);
    if (!absent) facts.file_bytes = bytes;
    journal::AddOptions options;
    options.date = *parse_date("2026-04-01");
    const auto clips = store->add_clips(added->id, {&facts, 1}, options, mara);
    REQUIRE(clips);
    return {std::move(*store), clips->clips[0].session, facts.fingerprint};
}

}  // namespace quarterturn::test
