#pragma once
/// Reads a network stored as a TensorFlow Lite FlatBuffer (file identifier "TFL3"): its tensors, its operators and its
/// constants. Only what the body-landmark networks use is understood; everything read is checked against the file's
/// bounds first, so a cut or damaged file gives an Error.
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace quarterturn::body {

enum class ElementType { float32, float16, int32, other };

/// How a constant is stored when most of it is zero: one entry per dimension in traversal order (block dimensions
/// last).
struct SparseDimension {
    bool dense = true;
    int size = 0;               ///< dense dimensions
    std::vector<int> segments;  ///< sparse: where each parent's run of indices begins, one more than there are parents
    std::vector<int> indices;   ///< sparse: position of each stored element along this dimension
};

struct Tensor {
    std::string name;
    std::vector<int> shape;  ///< as stored, e.g. 1 x height x width x channels; every extent > 0
    ElementType type = ElementType::other;
    std::span<const std::uint8_t> data;   ///< a constant's bytes inside TfliteModel::bytes; empty: computed at run time
    std::vector<int> traversal_order;     ///< sparse constants only
    std::vector<int> block_map;           ///< sparse constants only
    std::vector<SparseDimension> sparse;  ///< empty for ordinary constants

    [[nodiscard]] std::size_t elements() const;
};

enum class OperatorKind {
    add,
    concatenation,
    convolution,
    depthwise_convolution,
    depth_to_space,
    dequantize,
    logistic,
    max_pool,
    reshape,
    resize_bilinear,
    pad,
    densify
};

struct Operator {
    OperatorKind kind = OperatorKind::add;
    std::vector<int> inputs;  ///< tensor numbers; -1: an optional input left out
    std::vector<int> outputs;
    bool same_padding = false;  ///< zero border so that output = ceil(input / stride); else no border
    int stride_x = 1;
    int stride_y = 1;
    int dilation_x = 1;
    int dilation_y = 1;
    int depth_multiplier = 1;
    int pool_width = 1;
    int pool_height = 1;
    int block_size = 1;
    int axis = 0;      ///< of a concatenation
    float lowest = 0;  ///< the activation clips to [lowest, highest]
    float highest = 0;
    bool align_corners = false;
    bool half_pixel_centres = false;
};

struct TfliteModel {
    std::string bytes;  ///< the file; tensors point into it, so the model is moved, never copied
    std::vector<Tensor> tensors;
    std::vector<Operator> operators;  ///< in an order that can be computed
    std::vector<int> inputs;          ///< tensor numbers
    std::vector<int> outputs;

    TfliteModel() = default;
    TfliteModel(TfliteModel&&) noexcept = default;
    TfliteModel& operator=(TfliteModel&&) noexcept = default;
    TfliteModel(const TfliteModel&) = delete;
    TfliteModel& operator=(const TfliteModel&) = delete;
};

/// @param bytes the whole file
/// @error bad_input: not such a file, cut or damaged; unsupported: it uses an operator or a layout not listed above
[[nodiscard]] Result<TfliteModel> read_tflite(std::string bytes);

}  // namespace quarterturn::body
