#pragma once
/// Where the networks' files are. They are fetched by third_party/setup.sh and are not part of the program.
#include <filesystem>
#include <memory>
#include <optional>
#include <string_view>

#include "base/result.hpp"
#include "body/network_model.hpp"

namespace quarterturn::body {

/// Bigger is slower and steadier: lite about half, heavy about five times the work of full.
enum class ModelSize { lite, full, heavy };

[[nodiscard]] std::string_view name_of(ModelSize size);
[[nodiscard]] std::optional<ModelSize> model_size_named(std::string_view name);

/// Names the network files and the method; a landmark series made under another version is computed again.
[[nodiscard]] std::string_view landmark_version();

/// Both networks, ready to be shared by threads.
struct Models {
    ModelSize size = ModelSize::full;
    std::shared_ptr<const NetworkModel> detector;
    std::shared_ptr<const NetworkModel> landmarks;
};

/// `chosen` when given (--model-dir), else the build tree's third_party/models, else the installed share folder's
/// models. Empty when there is none.
[[nodiscard]] std::filesystem::path model_folder(const std::optional<std::filesystem::path>& chosen = std::nullopt);

/// @error missing_part: the files are not there, with how to get them; else as NetworkModel::load
[[nodiscard]] Result<Models> load_models(ModelSize size,
                                         const std::optional<std::filesystem::path>& chosen_folder = std::nullopt);

}  // namespace quarterturn::body
