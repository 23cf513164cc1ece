#pragma once
/// The envelope of every document: {"format": "quarterturn.note", "version": 1, ...}. For the .cpp files of this room;
/// programs use documents.hpp and store.hpp.
#include <functional>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "rules/json_reader.hpp"
#include "rules/json_text.hpp"

namespace quarterturn::journal {

using rules::Json;
using rules::JsonReader;
using rules::OrderedJson;

/// Brings a document one version up. Gets an object, changes its fields; the version number is set afterwards.
using UpgradeStep = std::function<void(Json& document)>;

struct DocumentFormat {
    std::string_view name;  ///< e.g. "quarterturn.note"
    int version = 1;        ///< the one this program writes
    /// Upgrades, oldest first: the last one leads to `version`, the one before it to version - 1, and so on.
    std::vector<UpgradeStep> upgrades;
};

/// Parses, checks the envelope and upgrades in memory; the file is only rewritten when its entry is edited.
/// @error bad_input: not such a document, or older than every upgrade; newer_version
[[nodiscard]] Result<Json> read_document(std::string_view text, const DocumentFormat& format);

/// A document with its envelope, for filling in.
[[nodiscard]] OrderedJson new_document(const DocumentFormat& format);

}  // namespace quarterturn::journal
