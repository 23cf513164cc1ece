#include <algorithm>
#include <tuple>

#include "journal/documents.hpp"
#include "journal/record_json.hpp"

namespace quarterturn::journal {
namespace {

const DocumentFormat& marks_format() {
    static const DocumentFormat format{"quarterturn.marks", 1, {}};
    return format;
}

std::optional<int> read_value(JsonReader& reader) {
    const auto value = reader.optional_tick("value");
    if (value && (*value < 0 || *value > 4)) reader.wrong("value", "must be 0, 1, 2, 3 or 4");
    return value && reader.fine() ? std::optional<int>{static_cast<int>(*value)} : std::nullopt;
}

Mark read_mark(JsonReader& reader) {
    Mark mark;
    mark.pose = reader.identifier("pose");
    mark.item = reader.identifier("item");
    mark.value = read_value(reader);
    mark.measured = reader.optional_number("measured");
    mark.unit = reader.text_or("unit", "");
    mark.clip = read_optional_fingerprint(reader, "clip");
    mark.edits = reader.integer("edits", 1);
    mark.edited = reader.instant("edited");
    mark.extras = reader.extras();
    return mark;
}

OrderedJson mark_json(const Mark& mark) {
    OrderedJson document{{"pose", mark.pose},
                         {"item", mark.item},
                         {"value", or_null(mark.value)},
                         {"measured", or_null(mark.measured)},
                         {"unit", mark.unit},
                         {"clip", or_null(mark.clip)},
                         {"edits", mark.edits},
                         {"edited", format_instant(mark.edited)}};
    rules::add_extras(document, mark.extras);
    return document;
}

bool same_place(const Mark& a, const Mark& b) {
    return a.pose == b.pose && a.item == b.item;
}
bool earlier_place(const Mark& a, const Mark& b) {
    return std::tie(a.pose, a.item) < std::tie(b.pose, b.item);
}

}  // namespace

Result<MarkSheet> read_mark_sheet(std::string_view text) {
    const auto document = read_document(text, marks_format());
    if (!document) return document.error();
    JsonReader reader{*document};
    (void)reader.text("format");
    (void)reader.tick("version");
    MarkSheet sheet;
    sheet.session = read_uuid(reader, "session");
    sheet.author = read_author(reader, "author");
    for (JsonReader& entry : reader.objects("marks")) {
        sheet.marks.push_back(read_mark(entry));
        sheet.marks.back().session = sheet.session;
        sheet.marks.back().author = sheet.author;
    }
    std::sort(sheet.marks.begin(), sheet.marks.end(), earlier_place);
    if (std::adjacent_find(sheet.marks.begin(), sheet.marks.end(), same_place) != sheet.marks.end())
        reader.wrong("marks", "must not hold the same pose and item twice");
    sheet.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return sheet;
}

std::string write_text(const MarkSheet& sheet) {
    OrderedJson document = new_document(marks_format());
    document["session"] = sheet.session;
    document["author"] = author_json(sheet.author);
    document["marks"] = OrderedJson::array();
    for (const Mark& mark : sheet.marks) document["marks"].push_back(mark_json(mark));
    rules::add_extras(document, sheet.extras);
    return rules::json_text(document);
}

}  // namespace quarterturn::journal
