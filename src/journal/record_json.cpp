#include "journal/record_json.hpp"

#include <fmt/format.h>

#include "base/fingerprint.hpp"
#include "base/id.hpp"

namespace quarterturn::journal {
namespace {

std::string read_id(JsonReader& reader, IdKind kind) {
    if (kind == IdKind::uuid) return read_uuid(reader, "id");
    if (kind == IdKind::fingerprint) return read_fingerprint(reader, "id");
    if (reader.text("id") != "athlete") reader.wrong("id", "must be \"athlete\"");
    return "athlete";
}

EditCounters read_edits(JsonReader& reader) {
    EditCounters counters;
    JsonReader edits = reader.object("edits");
    for (const std::string& place : edits.names()) counters[place] = edits.integer(place, 1);
    return counters;
}

}  // namespace

void read_record(JsonReader& reader, Record& record, IdKind kind) {
    (void)reader.text("format");  // read_document checked them; here they only become known fields
    (void)reader.tick("version");
    record.id = read_id(reader, kind);
    record.edits = read_edits(reader);
    record.removed = reader.flag_or("removed", false);
    record.created = reader.instant("created");
    record.edited = reader.instant("edited");
    record.author = read_author(reader, "author");
    record.editor = read_author(reader, "editor");
}

OrderedJson record_json(const DocumentFormat& format, const Record& record) {
    OrderedJson document = new_document(format);
    document["id"] = record.id;
    document["edits"] = OrderedJson::object();
    for (const auto& [place, count] : record.edits) document["edits"][place] = count;
    document["removed"] = record.removed;
    document["created"] = format_instant(record.created);
    document["edited"] = format_instant(record.edited);
    document["author"] = author_json(record.author);
    document["editor"] = author_json(record.editor);
    return document;
}

Author read_author(JsonReader& parent, const std::string& name) {
    JsonReader reader = parent.object(name);
    return {reader.text("name"), reader.word<Role>("role", find_role, "athlete, coach, program")};
}

OrderedJson author_json(const Author& author) {
    return {{"name", author.name}, {"role", role_id(author.role)}};
}

TimeBase read_time_base(JsonReader& parent, const std::string& name) {
    JsonReader reader = parent.object(name);
    const auto part = [&](const char* field) {
        const std::int64_t value = reader.integer(field, 1);
        if (value > 0x7FFFFFFF) reader.wrong(field, "is too large");
        return value;
    };
    return {part("num"), part("den")};
}

OrderedJson time_base_json(const TimeBase& base) {
    return {{"num", base.num}, {"den", base.den}};
}

std::string read_uuid(JsonReader& reader, const std::string& name) {
    const auto id = parse_id(reader.text(name));
    if (!id) reader.wrong(name, "must be an id (8-4-4-4-12 hexadecimal digits)");
    return id ? *id : std::string{};
}

std::optional<std::string> read_optional_fingerprint(JsonReader& reader, const std::string& name) {
    auto found = reader.optional_text(name);
    if (found && !is_fingerprint(*found))
        reader.wrong(name, "must be a fingerprint (sha256: and 64 lower-case hexadecimal digits)");
    return found;
}

std::string read_fingerprint(JsonReader& reader, const std::string& name) {
    if (!reader.has(name)) reader.wrong(name, "is missing; it must be a fingerprint");
    return read_optional_fingerprint(reader, name).value_or("");
}

std::optional<std::string> read_optional_pose(JsonReader& reader, const std::string& name) {
    if (!reader.has(name)) return std::nullopt;
    return reader.identifier(name);
}

std::optional<double> read_optional_cm(JsonReader& reader, const std::string& name, double least, double most) {
    const auto value = reader.optional_number(name);
    if (value && (*value < least || *value > most)) reader.wrong(name, fmt::format("must be {} to {} cm", least, most));
    return value;
}

}  // namespace quarterturn::journal
