#include "journal/documents.hpp"
#include "journal/record_json.hpp"

namespace quarterturn::journal {
namespace {

const DocumentFormat& library_format() {
    static const DocumentFormat format{"quarterturn.library", 1, {}};
    return format;
}

const DocumentFormat& athlete_format() {
    static const DocumentFormat format{"quarterturn.athlete", 1, {}};
    return format;
}

const DocumentFormat& season_format() {
    static const DocumentFormat format{"quarterturn.season", 1, {}};
    return format;
}

const DocumentFormat& session_format() {
    static const DocumentFormat format{"quarterturn.session", 1, {}};
    return format;
}

constexpr double shortest_cm = 100, tallest_cm = 250, highest_heel_cm = 30;

std::map<std::string, double> read_targets(JsonReader& reader) {
    std::map<std::string, double> targets;
    if (!reader.has("target_hold_s")) return targets;
    JsonReader list = reader.object("target_hold_s");
    for (const std::string& pose : list.names()) {
        targets[pose] = list.number(pose);
        if (targets[pose] <= 0 || targets[pose] > 600) list.wrong(pose, "must be more than 0 and at most 600 seconds");
    }
    return targets;
}

std::map<std::string, std::string> read_choices(JsonReader& reader) {
    std::map<std::string, std::string> choices;
    if (!reader.has("rule_choices")) return choices;
    JsonReader list = reader.object("rule_choices");
    for (const std::string& setting : list.names()) choices[setting] = list.text(setting);
    return choices;
}

/// An object also when it is empty.
template <class Map>
OrderedJson map_json(const Map& map) {
    OrderedJson object = OrderedJson::object();
    for (const auto& [name, value] : map) object[name] = value;
    return object;
}

std::string read_model_size(JsonReader& reader) {
    std::string size = reader.text_or("model_size", "");
    if (!size.empty() && size != "lite" && size != "full" && size != "heavy")
        reader.wrong("model_size", "must be \"lite\", \"full\" or \"heavy\"");
    return size;
}

}  // namespace

Result<LibraryFacts> read_library_facts(std::string_view text) {
    const auto document = read_document(text, library_format());
    if (!document) return document.error();
    JsonReader reader{*document};
    (void)reader.text("format");
    (void)reader.tick("version");
    LibraryFacts facts;
    facts.id = read_uuid(reader, "id");
    facts.title = reader.text_or("title", "");
    facts.created = reader.instant("created");
    facts.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return facts;
}

std::string write_text(const LibraryFacts& facts) {
    OrderedJson document = new_document(library_format());
    document["id"] = facts.id;
    document["title"] = facts.title;
    document["created"] = format_instant(facts.created);
    rules::add_extras(document, facts.extras);
    return rules::json_text(document);
}

Result<Athlete> read_athlete(std::string_view text) {
    const auto document = read_document(text, athlete_format());
    if (!document) return document.error();
    JsonReader reader{*document};
    Athlete athlete;
    read_record(reader, athlete, IdKind::athlete);
    athlete.name = reader.text_or("name", "");
    athlete.barefoot_height_cm = read_optional_cm(reader, "barefoot_height_cm", shortest_cm, tallest_cm);
    athlete.hide_body_numbers = reader.flag_or("hide_body_numbers", false);
    athlete.model_size = read_model_size(reader);
    athlete.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return athlete;
}

std::string write_text(const Athlete& athlete) {
    OrderedJson document = record_json(athlete_format(), athlete);
    document["name"] = athlete.name;
    document["barefoot_height_cm"] = or_null(athlete.barefoot_height_cm);
    document["hide_body_numbers"] = athlete.hide_body_numbers;
    if (!athlete.model_size.empty()) document["model_size"] = athlete.model_size;
    rules::add_extras(document, athlete.extras);
    return rules::json_text(document);
}

Result<Season> read_season(std::string_view text) {
    const auto document = read_document(text, season_format());
    if (!document) return document.error();
    JsonReader reader{*document};
    Season season;
    read_record(reader, season, IdKind::uuid);
    season.title = reader.text_or("title", "");
    season.show_date = reader.date("show_date");
    season.rule_set = reader.identifier("rule_set");
    season.rule_choices = read_choices(reader);
    season.barefoot_height_cm = read_optional_cm(reader, "barefoot_height_cm", shortest_cm, tallest_cm);
    season.target_hold_s = read_targets(reader);
    season.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return season;
}

std::string write_text(const Season& season) {
    OrderedJson document = record_json(season_format(), season);
    document["title"] = season.title;
    document["show_date"] = format_date(season.show_date);
    document["rule_set"] = season.rule_set;
    document["rule_choices"] = map_json(season.rule_choices);
    document["barefoot_height_cm"] = or_null(season.barefoot_height_cm);
    document["target_hold_s"] = map_json(season.target_hold_s);
    rules::add_extras(document, season.extras);
    return rules::json_text(document);
}

Result<Session> read_session(std::string_view text) {
    const auto document = read_document(text, session_format());
    if (!document) return document.error();
    JsonReader reader{*document};
    Session session;
    read_record(reader, session, IdKind::uuid);
    session.season = read_uuid(reader, "season");
    session.date = reader.date("date");
    session.date_source =
        reader.word<DateSource>("date_source", find_date_source, "given, recording, file_name, file_date");
    session.heel_height_cm = read_optional_cm(reader, "heel_height_cm", 0, highest_heel_cm);
    session.title = reader.text_or("title", "");
    session.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return session;
}

std::string write_text(const Session& session) {
    OrderedJson document = record_json(session_format(), session);
    document["season"] = session.season;
    document["date"] = format_date(session.date);
    document["date_source"] = date_source_id(session.date_source);
    document["heel_height_cm"] = or_null(session.heel_height_cm);
    document["title"] = session.title;
    rules::add_extras(document, session.extras);
    return rules::json_text(document);
}

}  // namespace quarterturn::journal
