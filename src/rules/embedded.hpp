#pragma once
/// The files of src/rules/data, made part of the program by src/rules/embed.cmake.
#include <span>
#include <string_view>

namespace quarterturn::rules {

struct EmbeddedFile {
    std::string_view name;  ///< without ".json"
    std::string_view text;
};

[[nodiscard]] std::span<const EmbeddedFile> embedded_files();

}  // namespace quarterturn::rules
