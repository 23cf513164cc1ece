#pragma once
/// A small grey picture kept without loss in about a third of its bytes, so that a long film's trunk fits in memory.
#include <cstdint>
#include <opencv2/core.hpp>
#include <vector>

namespace quarterturn::body {

/// Each pixel is told by its difference from what its neighbours to the left and above foretell (the median edge
/// detector of LOCO-I: Weinberger, Seroussi, Sapiro 2000), written in Golomb-Rice codes (Golomb 1966, Rice 1979) whose
/// parameter follows the differences just seen.
class PackedGrey {
  public:
    PackedGrey() = default;
    /// @param grey 8 bit, one channel
    explicit PackedGrey(const cv::Mat& grey);

    [[nodiscard]] cv::Mat unpacked() const;
    [[nodiscard]] cv::Size size() const { return size_; }
    [[nodiscard]] std::size_t bytes() const { return bits_.size(); }

  private:
    cv::Size size_;
    std::vector<std::uint8_t> bits_;
};

}  // namespace quarterturn::body
