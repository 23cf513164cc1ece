#include "journal/documents.hpp"
#include "journal/record_json.hpp"

namespace quarterturn::journal {
namespace {

const DocumentFormat& correction_format() {
    static const DocumentFormat format{"quarterturn.hold_correction", 1, {}};
    return format;
}

std::optional<PtsRange> read_range(JsonReader& parent, const std::string& name) {
    if (!parent.has(name)) return std::nullopt;
    JsonReader reader = parent.object(name);
    const PtsRange range{reader.tick("start_pts"), reader.tick("end_pts")};
    if (range.end <= range.start) reader.wrong("end_pts", "must be later than start_pts");
    return range;
}

OrderedJson range_json(const std::optional<PtsRange>& range) {
    if (!range) return nullptr;
    return {{"start_pts", range->start}, {"end_pts", range->end}};
}

/// Each kind needs its own fields; a document without them would silently do nothing.
void check_fields(JsonReader& reader, const HoldCorrection& correction) {
    const bool added = correction.kind == CorrectionKind::added;
    if (!added && !correction.about) reader.wrong("about", "is missing; it says which hold is meant");
    const bool needs_range =
        added || correction.kind == CorrectionKind::bounds || correction.kind == CorrectionKind::joined;
    if (needs_range && !correction.range) reader.wrong("range", "is missing for this kind of correction");
    if (correction.kind != CorrectionKind::split) return;
    if (!correction.at) reader.wrong("at_pts", "is missing; it says where the hold is split");
    if (correction.at && correction.about &&
        (*correction.at <= correction.about->start || *correction.at >= correction.about->end))
        reader.wrong("at_pts", "must lie inside the hold");
}

}  // namespace

Result<HoldCorrection> read_hold_correction(std::string_view text) {
    const auto document = read_document(text, correction_format());
    if (!document) return document.error();
    JsonReader reader{*document};
    HoldCorrection correction;
    read_record(reader, correction, IdKind::uuid);
    correction.clip = read_fingerprint(reader, "clip");
    correction.base = read_time_base(reader, "time_base");
    correction.kind =
        reader.word<CorrectionKind>("kind", find_correction_kind, "relabelled, bounds, split, joined, added, removed");
    correction.about = read_range(reader, "about");
    correction.range = read_range(reader, "range");
    correction.at = reader.optional_tick("at_pts");
    correction.pose = read_optional_pose(reader, "pose");
    check_fields(reader, correction);
    correction.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return correction;
}

std::string write_text(const HoldCorrection& correction) {
    OrderedJson document = record_json(correction_format(), correction);
    document["clip"] = correction.clip;
    document["time_base"] = time_base_json(correction.base);
    document["kind"] = correction_kind_id(correction.kind);
    document["about"] = range_json(correction.about);
    document["range"] = range_json(correction.range);
    document["at_pts"] = or_null(correction.at);
    document["pose"] = or_null(correction.pose);
    rules::add_extras(document, correction.extras);
    return rules::json_text(document);
}

}  // namespace quarterturn::journal
