#include <fmt/format.h>

#include "journal/documents.hpp"
#include "journal/record_json.hpp"

namespace quarterturn::journal {
namespace {

/// Version 1 could not say that a film is level: 0 stood for "nobody set a tilt".
void zero_tilt_was_estimated(Json& document) {
    const auto tilt = document.find("tilt_deg");
    if (tilt != document.end() && tilt->is_number() && tilt->get<double>() == 0) *tilt = nullptr;
}

const DocumentFormat& clip_format() {
    static const DocumentFormat format{"quarterturn.clip", 2, {zero_tilt_was_estimated}};
    return format;
}

/// A relative path stays inside the library: nobody's document makes the program open something else.
std::string read_path(JsonReader& reader) {
    std::string path = reader.text("path");
    bool leaves = path.empty();
    const std::filesystem::path parts{path};
    for (const auto& part : parts) leaves = leaves || (parts.is_relative() && part == "..");
    if (leaves || path.find('\0') != std::string::npos)
        reader.wrong("path", "must be absolute, or relative without leaving the library folder");
    return path;
}

double read_scale(JsonReader& reader) {
    const double scale = reader.number_or("time_scale", 1);
    if (scale < 0.001 || scale > 1000) reader.wrong("time_scale", "must be 0.001 to 1000");
    return scale;
}

std::optional<int> read_rotation(JsonReader& reader) {
    const auto degrees = reader.optional_tick("rotation_deg");
    if (!degrees) return std::nullopt;
    if (*degrees != 0 && *degrees != 90 && *degrees != 180 && *degrees != -90)
        reader.wrong("rotation_deg", "must be 0, 90, 180 or -90");
    return reader.fine() ? std::optional<int>{static_cast<int>(*degrees)} : std::nullopt;
}

std::optional<double> read_tilt(JsonReader& reader) {
    const std::optional<double> tilt = reader.optional_number("tilt_deg");
    if (tilt && (*tilt <= -45 || *tilt > 45)) reader.wrong("tilt_deg", "must be more than -45 and at most 45");
    return tilt;
}

std::optional<AthleteShown> read_athlete_at(JsonReader& parent) {
    if (!parent.has("athlete_at")) return std::nullopt;
    JsonReader reader = parent.object("athlete_at");
    AthleteShown shown;
    shown.pts = reader.tick("pts");
    shown.base = read_time_base(reader, "time_base");
    shown.x = reader.number("x");
    shown.y = reader.number("y");
    if (shown.x < 0 || shown.x > 1) reader.wrong("x", "must be 0 to 1");
    if (shown.y < 0 || shown.y > 1) reader.wrong("y", "must be 0 to 1");
    return shown;
}

}  // namespace

Result<Clip> read_clip(std::string_view text) {
    const auto document = read_document(text, clip_format());
    if (!document) return document.error();
    JsonReader reader{*document};
    Clip clip;
    read_record(reader, clip, IdKind::fingerprint);
    clip.session = read_uuid(reader, "session");
    clip.original_name = reader.text_or("original_name", "");
    clip.path = read_path(reader);
    clip.file_bytes = static_cast<std::uint64_t>(reader.integer("file_bytes", 0));
    clip.counts = reader.flag_or("counts", true);
    clip.recorded_at = reader.optional_instant("recorded_at");
    clip.time_scale = read_scale(reader);
    clip.speed_source = reader.word<SpeedSource>("speed_source", find_speed_source, "assumed, tagged, given");
    clip.mirrored = reader.flag_or("mirrored", false);
    clip.rotation_deg = read_rotation(reader);
    clip.tilt_deg = read_tilt(reader);
    clip.athlete_at = read_athlete_at(reader);
    clip.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return clip;
}

std::string write_text(const Clip& clip) {
    OrderedJson document = record_json(clip_format(), clip);
    document["session"] = clip.session;
    document["original_name"] = clip.original_name;
    document["path"] = clip.path;
    document["file_bytes"] = clip.file_bytes;
    document["counts"] = clip.counts;
    document["recorded_at"] = clip.recorded_at ? OrderedJson(format_instant(*clip.recorded_at)) : OrderedJson(nullptr);
    document["time_scale"] = clip.time_scale;
    document["speed_source"] = speed_source_id(clip.speed_source);
    document["mirrored"] = clip.mirrored;
    document["rotation_deg"] = or_null(clip.rotation_deg);
    document["tilt_deg"] = or_null(clip.tilt_deg);
    if (const auto& shown = clip.athlete_at)
        document["athlete_at"] = {
            {"pts", shown->pts}, {"time_base", time_base_json(shown->base)}, {"x", shown->x}, {"y", shown->y}};
    rules::add_extras(document, clip.extras);
    return rules::json_text(document);
}

}  // namespace quarterturn::journal
