#include "journal/documents.hpp"
#include "journal/record_json.hpp"

namespace quarterturn::journal {
namespace {

const DocumentFormat& pin_format() {
    static const DocumentFormat format{"quarterturn.pin", 1, {}};
    return format;
}

PinPlace read_place(JsonReader& parent, const std::string& name) {
    JsonReader reader = parent.object(name);
    PinPlace place;
    place.clip = read_fingerprint(reader, "clip");
    place.base = read_time_base(reader, "time_base");
    place.at = reader.optional_tick("at_pts");
    if (!reader.has("hold")) return place;
    JsonReader hold = reader.object("hold");
    place.hold = PtsRange{hold.tick("start_pts"), hold.tick("end_pts")};
    if (place.hold->end <= place.hold->start) hold.wrong("end_pts", "must be later than start_pts");
    return place;
}

OrderedJson place_json(const PinPlace& place) {
    OrderedJson out;
    out["clip"] = place.clip;
    out["time_base"] = time_base_json(place.base);
    out["hold"] = nullptr;
    if (place.hold) out["hold"] = {{"start_pts", place.hold->start}, {"end_pts", place.hold->end}};
    out["at_pts"] = or_null(place.at);
    return out;
}

/// Each kind needs its own fields; a document without them would silently do nothing.
void check_fields(JsonReader& reader, const Pin& pin) {
    if (pin.now.clip == pin.before.clip) reader.wrong("before", "must be about another clip than \"now\"");
    const int holds = (pin.now.hold ? 1 : 0) + (pin.before.hold ? 1 : 0);
    if (pin.kind == PinKind::holds && holds != 2) reader.wrong("kind", "needs a hold in \"now\" and in \"before\"");
    if (pin.kind == PinKind::alone && holds != 1) reader.wrong("kind", "needs one hold, in \"now\" or in \"before\"");
    if (pin.kind == PinKind::moments && (!pin.now.at || !pin.before.at))
        reader.wrong("kind", "needs at_pts in \"now\" and in \"before\"");
}

}  // namespace

Result<Pin> read_pin(std::string_view text) {
    const auto document = read_document(text, pin_format());
    if (!document) return document.error();
    JsonReader reader{*document};
    Pin pin;
    read_record(reader, pin, IdKind::uuid);
    pin.kind = reader.word<PinKind>("kind", find_pin_kind, "holds, moments, alone");
    pin.now = read_place(reader, "now");
    pin.before = read_place(reader, "before");
    check_fields(reader, pin);
    pin.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return pin;
}

std::string write_text(const Pin& pin) {
    OrderedJson document = record_json(pin_format(), pin);
    document["kind"] = pin_kind_id(pin.kind);
    document["now"] = place_json(pin.now);
    document["before"] = place_json(pin.before);
    rules::add_extras(document, pin.extras);
    return rules::json_text(document);
}

}  // namespace quarterturn::journal
