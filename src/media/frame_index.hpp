#pragma once
/// Every picture of a clip in the order it is shown, found by reading packets only (about 40 ms for a minute of film).
/// Files whose packets lack timestamps (AVI with B-pictures) or repeat them are decoded once instead.
#include <cstdint>
#include <filesystem>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "base/media_time.hpp"
#include "base/result.hpp"

namespace quarterturn::media {

struct IndexEntry {
    std::int64_t pts = 0;        ///< best-effort presentation timestamp, strictly increasing over the index
    std::int64_t dts = 0;        ///< decoding timestamp of its packet; pts where the file has none
    std::int64_t position = -1;  ///< where its packet begins in the file, bytes; -1: not known
    std::uint32_t order = 0;     ///< rank in decoding order, 0 first
    bool key = false;            ///< decoding can start here
    bool operator==(const IndexEntry&) const = default;
};

struct FrameIndex {
    TimeBase time_base;
    std::vector<IndexEntry> pictures;  ///< presentation order; packets that an edit list hides are not in it
    bool complete = true;              ///< false: the file ends early
    /// Packets carry their picture's own timestamp. False for files without them (AVI): their pictures are found by
    /// position, and the index was made by decoding.
    bool timed_packets = true;
    std::vector<std::string> warnings;

    /// Rank of the picture with exactly this pts.
    [[nodiscard]] std::optional<std::size_t> rank_of(std::int64_t pts) const;
    /// Rank of the picture on screen at `pts`: the last one not after it; 0 before the first. Empty index: nullopt.
    [[nodiscard]] std::optional<std::size_t> rank_at(std::int64_t pts) const;
    /// Rank of the picture nearest in time, ties to the earlier.
    [[nodiscard]] std::optional<std::size_t> rank_nearest(std::int64_t pts) const;
    /// From the first to the last picture plus the last picture's own length (the median distance).
    [[nodiscard]] double duration_s() const;
};

/// @error as probe; cancelled when `stop` is requested
[[nodiscard]] Result<FrameIndex> build_index(const std::filesystem::path& path, std::stop_token stop = {});

/// Kept between runs: a small binary document, versioned, checked on reading.
[[nodiscard]] std::string save_index(const FrameIndex& index);
/// @error bad_input: not an index or damaged; newer_version
[[nodiscard]] Result<FrameIndex> load_index(std::string_view bytes);

}  // namespace quarterturn::media
