#include "script.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "fields.hpp"

namespace quarterturn::sample {
namespace {

using nlohmann::json;
using Complaint = std::optional<std::string>;

template <class Read>
void section(Fields& parent, const char* key, Complaint& error, Read read) {
    if (const json* value = parent.child(key)) {
        Fields fields(*value, parent.place_of(key), error);
        read(fields);
        fields.done();
    }
}

void read_body(Fields& f, BodyShape& body) {
    std::size_t sex = 0;
    if (f.choice("sex", {"female", "male"}, sex)) body.sex = sex == 0 ? Sex::female : Sex::male;
    double height_cm = body.height_m * 100, heels_cm = 0;
    f.number("height_cm", 130, 210, height_cm);
    f.number("heels_cm", 0, 14, heels_cm);
    body.height_m = height_cm / 100;
    body.heels_m = heels_cm / 100;
    f.number("shoulder", 0.8, 1.25, body.shoulder);
    f.number("waist", 0.8, 1.3, body.waist);
    f.number("hip", 0.8, 1.3, body.hip);
    f.number("muscle", 0.7, 1.4, body.muscle);
    f.number("skin_texture", 0, 0.2, body.skin_texture);
    f.colour("skin", body.skin);
    f.colour("hair", body.hair);
    f.colour("suit", body.suit);
}

void read_camera(Fields& f, CameraSetup& camera) {
    f.number("distance_m", 1.5, 8, camera.distance_m);
    f.number("height_m", 0.05, 2.5, camera.height_m);
    f.number("sideways_m", -2, 2, camera.sideways_m);
    f.number("aim_height_m", 0, 2, camera.aim_height_m);
    f.number("roll_deg", -30, 30, camera.roll_deg);
    f.number("field_deg", 20, 90, camera.field_deg);
    f.number("shake_px", 0, 8, camera.shake_px);
    f.flag("mirrored", camera.mirrored);
}

void read_room(Fields& f, RoomSetup& room, Complaint& error) {
    f.flag("clutter", room.clutter);
    f.number("wall_m", 0.8, 6, room.wall_m);
    section(f, "spectator", error, [&](Fields& s) {
        Spectator spectator;
        std::size_t direction = 0;
        s.number("at_s", 0, 600, spectator.at_s);
        if (s.choice("direction", {"left", "right"}, direction)) spectator.to_left = direction == 0;
        s.number("behind_m", -2, 4, spectator.behind_m);
        room.spectator = spectator;
    });
}

void read_film(Fields& f, FilmSetup& film) {
    f.whole("width", 64, 4096, film.width);
    f.whole("height", 64, 4096, film.height);
    f.number("rate", 5, 240, film.rate);
    f.number("jitter", 0, 0.45, film.jitter);
    std::size_t turn = 0;
    if (f.choice("rotation", {"none", "right", "left", "half"}, turn))
        film.rotation_deg = std::array<int, 4>{0, -90, 90, 180}[turn];
    f.whole("quality", 0, 51, film.quality);
    f.number("noise", 0, 20, film.noise);
    f.flag("motion_blur", film.motion_blur);
    f.number("exposure_drift", 0, 0.4, film.exposure_drift);
    f.flag("sound", film.sound);
    std::string recorded;
    f.text("recorded_at", recorded);
    if (recorded.empty()) return;
    const Result<Instant> instant = parse_instant(recorded);
    if (!instant) return f.complain("recorded_at", "must be a date and time such as 2026-03-07T08:30:00Z");
    film.recorded_at = *instant;
}

struct WobbleKind {
    const char* name;
    Wobble kind;
    const char* unit;  ///< field that carries the size
    double most, hz;
};
constexpr std::array<WobbleKind, 8> wobbles{{{"sway", Wobble::sway, "cm", 8, 0.5},
                                             {"twist", Wobble::twist, "deg", 25, 0.4},
                                             {"turn", Wobble::turn, "deg", 25, 0.3},
                                             {"lean", Wobble::lean, "deg", 15, 0.3},
                                             {"tremor", Wobble::tremor, "mm", 15, 8},
                                             {"drift_arm", Wobble::drift_arm, "deg", 40, 0},
                                             {"fidget_hand", Wobble::fidget_hand, "cm", 10, 1.2},
                                             {"breath", Wobble::breath, "mm", 30, 0.3}}};

Disturbance read_disturbance(Fields& f) {
    Disturbance out;
    std::vector<std::string> names;
    for (const WobbleKind& wobble : wobbles) names.emplace_back(wobble.name);
    std::size_t rank = 0;
    f.need("kind");
    if (!f.choice("kind", names, rank)) return out;
    out.kind = wobbles[rank].kind;
    out.hz = wobbles[rank].hz;
    f.need(wobbles[rank].unit);
    f.number(wobbles[rank].unit, 0, wobbles[rank].most, out.size);
    f.number("hz", 0.05, 15, out.hz);
    std::size_t arm = 0;
    if (f.choice("arm", {"left", "right", "both"}, arm)) out.arm = static_cast<int>(arm);
    return out;
}

void read_pose(Fields& f, Step& step) {
    if (step.kind == StepKind::pose) {
        std::vector<std::string> ids;
        for (const std::string& id : pose_ids())
            if (is_pose(id)) ids.push_back(id);
        std::size_t rank = 0;
        f.need("pose");
        if (f.choice("pose", ids, rank)) step.pose.id = ids[rank];
        if (f.choice("side", {"left", "right"}, rank)) step.pose.side = rank == 0 ? "left" : "right";
        if (f.choice("style", {"plain", "hip"}, rank)) step.pose.style = rank == 0 ? "plain" : "hip";
        f.flag("fists", step.pose.fists);
    } else {
        step.pose.id = step.kind == StepKind::stand ? "relaxed_stand" : "hands_in_hair";
    }
    f.number("hold_s", 0.1, 180, step.hold_s);
    f.number("move_s", 0.3, 10, step.move_s);
    std::size_t turn = 0;
    if (f.choice("turn", {"right", "left"}, turn)) step.turn_right = turn == 0;
    if (f.has("turn_steps")) {
        int steps = 2;
        f.whole("turn_steps", 1, 12, steps);
        step.turn_steps = steps;
    }
}

void read_walk(Fields& f, Step& step) {
    f.number("cadence", 60, 160, step.cadence);
    f.number("step_m", 0.2, 0.9, step.step_m);
    if (step.kind != StepKind::walk) return;
    f.need("x_m");
    f.need("z_m");
    f.number("x_m", -3, 3, step.to_x);
    f.number("z_m", -2, 6, step.to_z);
    f.flag("stage", step.stage);
}

Step read_step(Fields& f, Complaint& error) {
    Step step;
    std::size_t rank = 0;
    f.need("do");
    if (!f.choice("do", {"walk_in", "walk_out", "walk", "pose", "stand", "fix_hair"}, rank)) return step;
    step.kind = std::array<StepKind, 6>{StepKind::walk_in, StepKind::walk_out, StepKind::walk,
                                        StepKind::pose,    StepKind::stand,    StepKind::fix_hair}[rank];
    if (rank <= 2) {
        read_walk(f, step);
        return step;
    }
    read_pose(f, step);
    if (const json* list = f.child("disturb")) {
        if (!list->is_array()) f.complain("disturb", "must be a list in brackets");
        for (std::size_t i = 0; list->is_array() && i < list->size(); ++i) {
            Fields item((*list)[i], fmt::format("{}[{}]", f.place_of("disturb"), i), error);
            step.disturb.push_back(read_disturbance(item));
            item.done();
        }
    }
    return step;
}

void read_steps(Fields& top, Script& script, Complaint& error) {
    top.need("steps");
    const json* list = top.child("steps");
    if (list == nullptr) return;
    if (!list->is_array() || list->empty())
        return top.complain("steps", "must be a list in brackets with at least one step");
    for (std::size_t i = 0; i < list->size(); ++i) {
        Fields fields((*list)[i], fmt::format("steps[{}]", i), error);
        script.steps.push_back(read_step(fields, error));
        fields.done();
    }
    const StepKind first = script.steps.front().kind;
    if (first == StepKind::walk || first == StepKind::walk_out)
        top.complain("steps", "must begin with walk_in, stand, fix_hair or pose");
}

Script read_document(const json& document, Complaint& error) {
    Script script;
    Fields top(document, "", error);
    std::string format;
    int version = 1, seed = 1;
    top.text("format", format);
    top.whole("version", 1, 1, version);
    top.text("name", script.name);
    top.whole("seed", 0, 1000000, seed);
    script.seed = static_cast<std::uint32_t>(seed);
    section(top, "body", error, [&](Fields& f) { read_body(f, script.body); });
    section(top, "camera", error, [&](Fields& f) { read_camera(f, script.camera); });
    section(top, "room", error, [&](Fields& f) { read_room(f, script.room, error); });
    section(top, "film", error, [&](Fields& f) { read_film(f, script.film); });
    section(top, "natural", error, [&](Fields& f) {
        f.number("sway_cm", 0, 3, script.natural.sway_cm);
        f.number("breath_mm", 0, 20, script.natural.breath_mm);
    });
    read_steps(top, script, error);
    top.done();
    if (script.film.width % 2 != 0 || script.film.height % 2 != 0)
        top.complain("film", "needs an even width and height");
    return script;
}

}  // namespace

Result<Script> parse_script(std::string_view text) {
    const json document = json::parse(text, nullptr, false);
    if (document.is_discarded()) return Error{ErrorCode::bad_input, "The script is not valid JSON."};
    if (!document.is_object() || document.value("format", json()) != "quarterturn.script")
        return Error{ErrorCode::bad_input, "This is not a script: \"format\" must be \"quarterturn.script\"."};
    if (document.contains("version") && document["version"].is_number() && document["version"].get<double>() > 1)
        return Error{ErrorCode::newer_version, "The script was written for a newer program; update this one."};
    Complaint error;
    Script script = read_document(document, error);
    if (error) return Error{ErrorCode::bad_input, "Script: " + *error};
    return script;
}

Result<Script> load_script(const std::filesystem::path& path) {
    const Result<std::string> text = read_file(path, 1U << 20U);
    if (!text) return text.error();
    Result<Script> script = parse_script(*text);
    if (!script)
        return Error{script.error().code, fmt::format("{}: {}", path.filename().string(), script.error().detail)};
    if (script->name.empty()) script->name = path.stem().string();
    return script;
}

}  // namespace quarterturn::sample
