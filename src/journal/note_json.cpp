#include <fmt/format.h>

#include "base/text.hpp"
#include "journal/documents.hpp"
#include "journal/record_json.hpp"

namespace quarterturn::journal {
namespace {

const DocumentFormat& note_format() {
    static const DocumentFormat format{"quarterturn.note", 1, {}};
    return format;
}

std::optional<ClipMoment> read_moment(JsonReader& parent) {
    if (!parent.has("moment")) return std::nullopt;
    JsonReader reader = parent.object("moment");
    ClipMoment moment;
    moment.start_pts = reader.tick("start_pts");
    moment.end_pts = reader.optional_tick("end_pts");
    moment.base = read_time_base(reader, "time_base");
    if (moment.end_pts && *moment.end_pts <= moment.start_pts) reader.wrong("end_pts", "must be later than start_pts");
    return moment;
}

OrderedJson moment_json(const std::optional<ClipMoment>& moment) {
    if (!moment) return nullptr;
    return {{"start_pts", moment->start_pts},
            {"end_pts", or_null(moment->end_pts)},
            {"time_base", time_base_json(moment->base)}};
}

std::string read_words(JsonReader& reader) {
    std::string text = reader.text("text");
    if (trimmed(text).empty()) reader.wrong("text", "must not be empty");
    if (text.size() > longest_note) reader.wrong("text", fmt::format("must be at most {} KiB", longest_note >> 10U));
    return text;
}

std::vector<std::string> read_drawings(JsonReader& reader) {
    std::vector<std::string> drawings;
    const Json& list = reader.raw("drawings");
    if (list.is_null()) return drawings;
    if (!list.is_array()) reader.wrong("drawings", "must be a list in brackets");
    for (std::size_t i = 0; list.is_array() && i < list.size(); ++i) {
        if (!list[i].is_object()) reader.wrong(fmt::format("drawings[{}]", i), "must be an object in braces");
        drawings.push_back(list[i].dump(-1, ' ', false, Json::error_handler_t::replace));
    }
    return drawings;
}

OrderedJson drawings_json(const std::vector<std::string>& drawings) {
    OrderedJson list = OrderedJson::array();
    for (const std::string& drawing : drawings) {
        // One that is no JSON becomes null, which reading back refuses.
        OrderedJson parsed = OrderedJson::parse(drawing, nullptr, false);
        list.push_back(parsed.is_discarded() ? OrderedJson(nullptr) : std::move(parsed));
    }
    return list;
}

}  // namespace

Result<Note> read_note(std::string_view text) {
    const auto document = read_document(text, note_format());
    if (!document) return document.error();
    JsonReader reader{*document};
    Note note;
    read_record(reader, note, IdKind::uuid);
    note.session = read_uuid(reader, "session");
    note.clip = read_optional_fingerprint(reader, "clip");
    note.moment = read_moment(reader);
    if (note.moment && !note.clip) reader.wrong("moment", "needs a clip");
    note.pose = read_optional_pose(reader, "pose");
    note.topic = reader.word<Topic>("topic", rules::find_topic,
                                    "transition, hands, twist_versus_sway, walk, feet, face, conditioning, other");
    note.text = read_words(reader);
    note.done = reader.flag_or("done", false);
    note.drawings = read_drawings(reader);
    note.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return note;
}

std::string write_text(const Note& note) {
    OrderedJson document = record_json(note_format(), note);
    document["session"] = note.session;
    document["clip"] = or_null(note.clip);
    document["moment"] = moment_json(note.moment);
    document["pose"] = or_null(note.pose);
    document["topic"] = rules::topic_id(note.topic);
    document["text"] = note.text;
    document["done"] = note.done;
    document["drawings"] = drawings_json(note.drawings);
    rules::add_extras(document, note.extras);
    return rules::json_text(document);
}

}  // namespace quarterturn::journal
