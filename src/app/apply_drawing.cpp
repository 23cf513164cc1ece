#include <algorithm>
#include <cmath>

#include "app/apply.hpp"
#include "app/joints.hpp"
#include "base/id.hpp"

namespace quarterturn::app {
namespace {

constexpr double snap_reach = 0.03;  // share of the picture's height

void snapped(const ReviewState& state, Spot& spot, std::string& joint) {
    const auto joints = joints_at(*state.clip, state.playing.pts);
    const auto near = nearest_joint(spot, joints, snap_reach, state.clip->aspect());
    joint = near ? near->name : "";
    if (near) spot = near->spot;
}

// The drawing goes to the chosen note at this picture, else to a new one that is called by the tool's name until the
// person writes something better.
Status keep(ReviewState& state, Drawing drawing) {
    using journal::Note;
    if (!state.library || !state.clip->in_library)
        return Error{ErrorCode::unsupported,
                     "This clip is not in a library, so drawings cannot be kept. Add it to one first."};
    const std::string text = write_drawing(drawing);
    const std::string title = "Draw";
    const Note* note = state.desk.note ? state.library->find_note(*state.desk.note) : nullptr;
    if (note != nullptr && note->clip == state.clip->fingerprint && note->moment &&
        note_is_on_screen(*state.clip, *note, state.playing.pts)) {
        Note after = *note;
        after.drawings.push_back(text);
        after.editor = state.author();
        make_edit(state, {title, {EntryChange<Note>{*note, std::move(after)}}});
        return ok();
    }
    Note made;
    if (state.draft) {
        made = state.draft->note;
    } else {
        made.id = new_id();
        made.author = made.editor = state.author();
        made.session = state.clip->session;
        made.clip = state.clip->fingerprint;
        made.moment = journal::ClipMoment{state.playing.pts, std::nullopt, state.clip->index->time_base};
        if (const auto span = span_at(*state.clip, state.playing.pts); span && state.clip->spans[*span].is_hold)
            made.pose = state.clip->spans[*span].pose;
    }
    made.text = std::string(drawing_kind_title(drawing.kind));
    made.drawings.push_back(text);
    state.desk.note = made.id;
    state.desk.card = made.pose.value_or("");
    state.desk.card_shows_checklist = false;
    make_edit(state, {title, {EntryChange<Note>{std::nullopt, std::move(made)}}});
    return ok();
}

Status complete(ReviewState& state) {
    Desk& desk = state.desk;
    Drawing drawing{*desk.tool, desk.started, {}};
    if (*desk.tool == DrawingKind::angle) drawing.joints = desk.started_joints;
    desk.started.clear();
    desk.started_joints.clear();
    return keep(state, std::move(drawing));
}

Status press(ReviewState& state, Spot spot) {
    Desk& desk = state.desk;
    if (!desk.tool) return ok();
    if (state.playing.running) {
        state.playing.running = false;
        state.requests.push_back(Request::Pause{});
    }
    std::string joint;
    if (*desk.tool == DrawingKind::angle) snapped(state, spot, joint);
    desk.started.push_back(spot);
    desk.started_joints.push_back(joint);
    const std::size_t needed = points_needed(*desk.tool);
    // Rings, arrows and strokes are pulled open with the button down; the others are set point by point.
    const bool pulled = *desk.tool == DrawingKind::ring || *desk.tool == DrawingKind::arrow || needed == 0;
    if (!pulled && desk.started.size() == needed) return complete(state);
    return ok();
}

void move(ReviewState& state, Spot spot) {
    Desk& desk = state.desk;
    if (!desk.tool || desk.started.empty()) return;
    if (*desk.tool == DrawingKind::stroke) {
        const Spot last = desk.started.back();
        if (std::hypot(spot.x - last.x, spot.y - last.y) > 0.002 && desk.started.size() < 2000)
            desk.started.push_back(spot);
    } else if (*desk.tool == DrawingKind::ring || *desk.tool == DrawingKind::arrow) {
        desk.started.resize(1);
        desk.started.push_back(spot);
    }
}

Status let_go(ReviewState& state) {
    Desk& desk = state.desk;
    if (!desk.tool || *desk.tool == DrawingKind::angle) return ok();
    const bool enough = desk.started.size() >= 2;
    if (enough) return complete(state);
    desk.started.clear();
    desk.started_joints.clear();
    return ok();
}

}  // namespace

Status apply_drawing(ReviewState& state, const Command& command) {
    Desk& desk = state.desk;
    if (const auto* c = std::get_if<TakeTool>(&command)) {
        desk.tool = c->tool;
        // What is drawn belongs to one picture.
        if (c->tool && state.playing.running) {
            state.playing.running = false;
            state.requests.push_back(Request::Pause{});
        }
        desk.started.clear();
        desk.started_joints.clear();
    }
    if (const auto* c = std::get_if<DrawPoint>(&command)) return press(state, c->spot);
    if (const auto* c = std::get_if<DrawOn>(&command)) move(state, c->spot);
    if (std::holds_alternative<DrawEnd>(command)) return let_go(state);
    if (const auto* c = std::get_if<RemoveDrawing>(&command)) {
        const auto* note = state.library ? state.library->find_note(c->note) : nullptr;
        if (note == nullptr || c->drawing >= note->drawings.size()) return ok();
        journal::Note after = *note;
        after.drawings.erase(after.drawings.begin() + static_cast<std::ptrdiff_t>(c->drawing));
        make_edit(state, {"Remove the drawing", {EntryChange<journal::Note>{*note, std::move(after)}}});
    }
    return ok();
}

}  // namespace quarterturn::app
