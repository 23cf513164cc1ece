#pragma once
/// Which place an edit was made at: the key of edit counters.
#include <filesystem>
#include <string>

namespace quarterturn::journal {

/// The id of this library folder on this machine, kept in its cache folder: 16 hexadecimal digits drawn at random. A
/// copy of the folder, on this or another machine, and one whose cache was deleted, draw a new one: then no two places
/// ever count edits under the same key.
[[nodiscard]] std::string writer_id(const std::filesystem::path& library);

}  // namespace quarterturn::journal
