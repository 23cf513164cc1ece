#include "journal/document.hpp"

#include <fmt/format.h>

namespace quarterturn::journal {

Result<Json> read_document(std::string_view text, const DocumentFormat& format) {
    auto document = rules::parse_json(text);
    if (!document) return document;
    JsonReader reader{*document};
    if (reader.text("format") != format.name) reader.wrong("format", fmt::format("must be \"{}\"", format.name));
    const std::int64_t version = reader.integer("version", 0);
    if (!reader.fine()) return reader.problem();
    if (version > format.version)
        return Error{ErrorCode::newer_version,
                     fmt::format("It has version {}, this program knows {}. It is left as it is; use a newer program.",
                                 version, format.version)};
    const auto behind = static_cast<std::size_t>(format.version - version);
    if (behind > format.upgrades.size())
        return Error{ErrorCode::bad_input,
                     fmt::format("version: {} was never used for this kind of document", version)};
    for (std::size_t i = format.upgrades.size() - behind; i < format.upgrades.size(); ++i)
        format.upgrades[i](*document);
    (*document)["version"] = format.version;
    return document;
}

OrderedJson new_document(const DocumentFormat& format) {
    return OrderedJson{{"format", format.name}, {"version", format.version}};
}

}  // namespace quarterturn::journal
