#pragma once
/// Any picture of a clip, exactly, in any order: what looking closely uses. Steps backwards come from a bounded cache.
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

#include "base/result.hpp"
#include "media/frame_index.hpp"
#include "media/picture.hpp"
#include "media/probe.hpp"

namespace quarterturn::media {

struct ExactSettings {
    int threads = 0;              ///< decoding threads; 0: one per core
    std::size_t cache_mib = 256;  ///< budget for decoded pictures
    /// False: open at once and make the index in the background. Until it is ready pictures are found by time, verified
    /// against the pictures' own timestamps: slower, but the same pictures.
    bool wait_for_index = true;
};

/// Not thread-safe; one per thread that looks.
class ExactReader {
  public:
    /// Uses `index` when given (made by build_index from the same file), else builds it.
    /// @error as probe and build_index
    [[nodiscard]] static Result<ExactReader> open(const std::filesystem::path& path, ExactSettings settings = {},
                                                  std::optional<FrameIndex> index = std::nullopt);
    ExactReader(ExactReader&&) noexcept;
    ExactReader& operator=(ExactReader&&) noexcept;
    ~ExactReader();

    [[nodiscard]] const ClipInfo& info() const;
    /// The index; empty and not complete while it is being made in the background.
    [[nodiscard]] const FrameIndex& index() const;
    /// Takes over an index made in the background when it is ready. Every picture request does this too.
    bool index_ready();
    /// Waits for it. @error as build_index
    [[nodiscard]] Status wait_for_index();

    /// The picture with exactly this pts. @error not_found: no picture has it, or the file is damaged there
    [[nodiscard]] Result<Picture> frame_at(std::int64_t pts);
    /// The picture of this rank in presentation order, 0 first; waits for the index. @error not_found
    [[nodiscard]] Result<Picture> frame_of_rank(std::size_t rank);
    /// The picture on screen `seconds` after the first picture, i.e. the last one not later. Clamped to the clip.
    [[nodiscard]] Result<Picture> frame_at_seconds(double seconds);
    /// The picture nearest to `seconds` after the first one.
    [[nodiscard]] Result<Picture> nearest(double seconds);
    /// The neighbours of the picture given last; before any: the first picture. Pictures that cannot be decoded are
    /// passed over. @error not_found at the ends
    [[nodiscard]] Result<Picture> next();
    [[nodiscard]] Result<Picture> previous();

    /// Says that from now on only pictures of these ranks will be asked for, in this order, by rank: the pictures
    /// between that no other picture needs are not decoded at all, which changes nothing in the others.
    /// Waits for the index. @error as build_index
    [[nodiscard]] Status want_only(const std::vector<std::size_t>& ranks);

    /// Bytes of decoded pictures held now; never above the budget by more than one picture.
    [[nodiscard]] std::size_t cached_bytes() const;

  private:
    struct State;
    explicit ExactReader(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace quarterturn::media
