#pragma once
/// A network read from its file and made ready to run: constants unpacked to 32-bit floats, shapes checked operator by
/// operator. Immutable, so every thread's Network can share one.
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "base/result.hpp"
#include "body/tflite_model.hpp"

namespace quarterturn::body {

class NetworkModel {
  public:
    /// @error missing_part: no such file, with how to get it; no_permission, io; bad_input, unsupported as read_tflite,
    ///        also where the operators' shapes do not fit together
    [[nodiscard]] static Result<std::shared_ptr<const NetworkModel>> load(const std::filesystem::path& path);
    /// The same from the file's bytes.
    [[nodiscard]] static Result<std::shared_ptr<const NetworkModel>> from_bytes(std::string bytes);

    [[nodiscard]] const TfliteModel& graph() const { return graph_; }

    /// A constant's values; empty for tensors computed at run time.
    [[nodiscard]] std::span<const float> constant(int tensor) const {
        return constants_[static_cast<std::size_t>(tensor)];
    }

    /// Whether `op` only prepares constants and was done when loading.
    [[nodiscard]] bool folded(const Operator& op) const { return !constant(op.outputs[0]).empty(); }

    /// The model output with this many elements; the landmark networks' outputs differ in it.
    [[nodiscard]] std::optional<int> output_of_size(std::size_t elements) const;

  private:
    TfliteModel graph_;
    std::vector<std::vector<float>> constants_;  ///< per tensor
};

/// The value of a half-precision number (IEEE 754 binary16).
[[nodiscard]] float from_half(std::uint16_t bits);

}  // namespace quarterturn::body
