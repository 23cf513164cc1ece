#pragma once
/// The readers ours is compared with. A picture is known by a hash of its luma plane, or of its RGB samples.
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

namespace quarterturn::bench {

using PictureHash = std::uint64_t;
PictureHash hash_rows(const std::uint8_t* data, std::ptrdiff_t stride, std::size_t row_bytes, int rows);

/// What most programs do: av_seek_frame to the timestamp, decode until the first picture not before it.
class NaiveReader {
  public:
    NaiveReader(const std::filesystem::path& path, int threads);
    ~NaiveReader();
    /// nullopt: no picture came.
    std::optional<PictureHash> picture_at(std::int64_t pts);

  private:
    struct State;
    std::unique_ptr<State> state_;
};

/// FFMS2, a general-purpose frame-accurate reader library.
class FfmsReader {
  public:
    FfmsReader(const std::filesystem::path& path, int threads);
    ~FfmsReader();
    std::optional<PictureHash> picture_of_rank(int rank);

  private:
    struct State;
    std::unique_ptr<State> state_;
};

/// OpenCV's VideoCapture, by picture number. It gives BGR only, so its truth is its own reading from first to last;
/// version 4.6 takes as many threads as there are cores.
class OpenCvReader {
  public:
    explicit OpenCvReader(const std::filesystem::path& path);
    ~OpenCvReader();
    std::optional<PictureHash> picture_of_rank(int rank);
    static std::vector<PictureHash> all_in_order(const std::filesystem::path& path);

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace quarterturn::bench
