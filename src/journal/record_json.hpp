#pragma once
/// The fields all documents share, for the .cpp files of this room.
#include <optional>
#include <string>

#include "base/media_time.hpp"
#include "journal/document.hpp"
#include "journal/record.hpp"

namespace quarterturn::journal {

enum class IdKind { uuid, fingerprint, athlete };

/// Reads the envelope's and the record's fields except extras (they are known only when all fields were asked for).
void read_record(JsonReader& reader, Record& record, IdKind kind);
/// The document's beginning: envelope and record. add_extras comes last, when all fields are there.
[[nodiscard]] OrderedJson record_json(const DocumentFormat& format, const Record& record);

[[nodiscard]] Author read_author(JsonReader& parent, const std::string& name);
[[nodiscard]] OrderedJson author_json(const Author& author);

/// [num, den] as an object; both 1 .. 2^31 - 1.
[[nodiscard]] TimeBase read_time_base(JsonReader& parent, const std::string& name);
[[nodiscard]] OrderedJson time_base_json(const TimeBase& base);

[[nodiscard]] std::string read_uuid(JsonReader& reader, const std::string& name);
[[nodiscard]] std::string read_fingerprint(JsonReader& reader, const std::string& name);
[[nodiscard]] std::optional<std::string> read_optional_fingerprint(JsonReader& reader, const std::string& name);
[[nodiscard]] std::optional<std::string> read_optional_pose(JsonReader& reader, const std::string& name);
/// Body and heel heights: least to most, cm.
[[nodiscard]] std::optional<double> read_optional_cm(JsonReader& reader, const std::string& name, double least,
                                                     double most);

/// null when absent.
template <class T>
[[nodiscard]] OrderedJson or_null(const std::optional<T>& value) {
    return value ? OrderedJson(*value) : OrderedJson(nullptr);
}

}  // namespace quarterturn::journal
