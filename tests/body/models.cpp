#include "models.hpp"

#include <doctest/doctest.h>

#include "base/file.hpp"

namespace quarterturn::body {

const Models& full_models() {
    static const Models models = [] {
        auto loaded = load_models(ModelSize::full);
        REQUIRE_MESSAGE(loaded, loaded.error().detail);
        return std::move(loaded).value();
    }();
    return models;
}

std::string file_bytes(std::string_view name) {
    auto bytes = read_file(model_folder() / name);
    REQUIRE_MESSAGE(bytes, bytes.error().detail);
    return std::move(bytes).value();
}

}  // namespace quarterturn::body
