#pragma once
/// Pictures from first to last at full decoding speed: what analysis uses.
#include <filesystem>
#include <memory>
#include <optional>

#include "base/result.hpp"
#include "media/picture.hpp"
#include "media/probe.hpp"

namespace quarterturn::media {

struct ReadSettings {
    int threads = 0;  ///< decoding threads; 0: one per core
};

class LinearReader {
  public:
    /// @error as probe
    [[nodiscard]] static Result<LinearReader> open(const std::filesystem::path& path, ReadSettings settings = {});
    LinearReader(LinearReader&&) noexcept;
    LinearReader& operator=(LinearReader&&) noexcept;
    ~LinearReader();

    [[nodiscard]] const ClipInfo& info() const;

    /// The next picture in presentation order; nullopt after the last one. A cut or damaged file gives what can be read
    /// and then ends; `warnings()` says so.
    /// @error io: the file became unreadable on the way
    [[nodiscard]] Result<std::optional<Picture>> next();

    /// Plain sentences about what could not be read so far (how many pictures of how many, how many damaged).
    [[nodiscard]] std::vector<std::string> warnings() const;

  private:
    struct State;
    explicit LinearReader(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace quarterturn::media
