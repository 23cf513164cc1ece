#pragma once
/// Builds a film's index on a thread of its own. Private to this room.
#include <filesystem>
#include <future>
#include <optional>
#include <thread>

#include "media/frame_index.hpp"

namespace quarterturn::media {

/// Destroying it stops the work.
class BackgroundIndex {
  public:
    explicit BackgroundIndex(const std::filesystem::path& path);

    /// The result, once; nullopt while it is not ready or when it was taken already.
    [[nodiscard]] std::optional<Result<FrameIndex>> take_if_ready();
    /// Waits for it; nullopt when it was taken already.
    [[nodiscard]] std::optional<Result<FrameIndex>> wait();

  private:
    std::future<Result<FrameIndex>> result_;
    std::jthread worker_;  // last: joined before the future goes
};

}  // namespace quarterturn::media
