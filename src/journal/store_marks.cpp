#include <map>
#include <utility>

#include "journal/mark_files.hpp"
#include "journal/store_state.hpp"

namespace quarterturn::journal {
namespace {

bool same_place(const Mark& a, const Mark& b) {
    return a.pose == b.pose && a.item == b.item;
}

/// Puts a mark into its author's sheet, in its place, and counts the edit. Nothing changes when it says the same.
/// @return the mark as it stands in the sheet, and whether the sheet changed
std::pair<Mark, bool> put(MarkSheet& sheet, Mark mark, Instant now) {
    const auto place =
        std::find_if(sheet.marks.begin(), sheet.marks.end(), [&](const Mark& old) { return same_place(old, mark); });
    if (place == sheet.marks.end()) {
        mark.edits = 1;
        mark.edited = now;
        const auto next = std::find_if(sheet.marks.begin(), sheet.marks.end(), [&](const Mark& old) {
            return std::tie(old.pose, old.item) > std::tie(mark.pose, mark.item);
        });
        return {*sheet.marks.insert(next, std::move(mark)), true};
    }
    const bool same = place->value == mark.value && place->measured == mark.measured && place->unit == mark.unit &&
                      place->clip == mark.clip;
    if (same) return {*place, false};
    mark.edits = place->edits + 1;
    mark.edited = std::max(now, place->edited);
    mark.extras = place->extras;
    *place = std::move(mark);
    return {*place, true};
}

}  // namespace

Result<Mark> Store::set_mark(Mark mark) {
    if (Status done = set_marks({&mark, 1}); !done) return done.error();
    const auto sheet = load_mark_sheet(state_->folder, mark.session, mark.author);
    if (!sheet) return sheet.error();
    for (const Mark& kept : sheet->marks) {
        if (same_place(kept, mark)) return kept;
    }
    return Error{ErrorCode::conflict, "Somebody else changed that mark in the meantime."};
}

Status Store::set_marks(std::span<const Mark> marks) {
    const auto held = state_->lock();
    if (!held) return held.error();
    std::map<std::pair<std::string, Author>, std::vector<const Mark*>> sheets;
    for (const Mark& mark : marks) sheets[{mark.session, mark.author}].push_back(&mark);
    for (const auto& [key, changes] : sheets) {
        if (Status there = state_->need<Session>(key.first); !there) return there;
        auto sheet = load_mark_sheet(state_->folder, key.first, key.second);
        if (!sheet) return sheet.error();
        bool changed = false;
        for (const Mark* mark : changes) changed = put(*sheet, *mark, State::now()).second || changed;
        if (!changed) continue;
        if (Status written = save_mark_sheet(state_->folder, *sheet); !written) return written;
    }
    return ok();
}

}  // namespace quarterturn::journal
