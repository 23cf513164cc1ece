#include "body/model_files.hpp"

#include <fmt/format.h>

#include <array>
#include <utility>

#include "base/places.hpp"

namespace quarterturn::body {
namespace {

constexpr std::array<std::pair<ModelSize, std::string_view>, 3> names{
    {{ModelSize::lite, "lite"}, {ModelSize::full, "full"}, {ModelSize::heavy, "heavy"}}};

}  // namespace

std::string_view name_of(ModelSize size) {
    for (const auto& [value, name] : names) {
        if (value == size) return name;
    }
    return "full";
}

std::optional<ModelSize> model_size_named(std::string_view name) {
    for (const auto& [value, known] : names) {
        if (known == name) return value;
    }
    return std::nullopt;
}

std::string_view landmark_version() {
    // The package that holds the files, then a number raised whenever the method's results change.
    return "0.5.1675469404/5";
}

std::filesystem::path model_folder(const std::optional<std::filesystem::path>& chosen) {
    if (chosen) return *chosen;
    const std::filesystem::path built = bundled_folder("third_party/models");
    return built.empty() ? bundled_folder("models") : built;
}

Result<Models> load_models(ModelSize size, const std::optional<std::filesystem::path>& chosen_folder) {
    const std::filesystem::path folder = model_folder(chosen_folder);
    auto detector = NetworkModel::load(folder / "person_detector.tflite");
    if (!detector) return detector.error();
    auto landmarks = NetworkModel::load(folder / fmt::format("landmarks_{}.tflite", name_of(size)));
    if (!landmarks) return landmarks.error();
    return Models{size, std::move(detector).value(), std::move(landmarks).value()};
}

}  // namespace quarterturn::body
