#include "app/change.hpp"

#include <algorithm>

namespace quarterturn::app {
namespace {

using journal::Library;

std::vector<journal::Note>& list_of(Library& l, const journal::Note&) {
    return l.notes;
}
std::vector<journal::HoldCorrection>& list_of(Library& l, const journal::HoldCorrection&) {
    return l.hold_corrections;
}
std::vector<journal::Pin>& list_of(Library& l, const journal::Pin&) {
    return l.pins;
}
std::vector<journal::Clip>& list_of(Library& l, const journal::Clip&) {
    return l.clips;
}
std::vector<journal::Session>& list_of(Library& l, const journal::Session&) {
    return l.sessions;
}
std::vector<journal::Season>& list_of(Library& l, const journal::Season&) {
    return l.seasons;
}

template <class Entry>
void put(Library& library, const EntryChange<Entry>& change) {
    const Entry& any = change.after ? *change.after : *change.before;
    auto& list = list_of(library, any);
    const auto found = std::find_if(list.begin(), list.end(), [&](const Entry& e) { return e.id == any.id; });
    if (!change.after) {
        if (found != list.end()) list.erase(found);
    } else if (found != list.end()) {
        *found = *change.after;
    } else {
        list.push_back(*change.after);
    }
}

void put(Library& library, const EntryChange<journal::Athlete>& change) {
    if (change.after) library.athlete = *change.after;
}

bool same_mark(const journal::Mark& a, const journal::Mark& b) {
    return a.session == b.session && a.pose == b.pose && a.item == b.item && a.author == b.author;
}

void put(Library& library, const EntryChange<journal::Mark>& change) {
    const journal::Mark& any = change.after ? *change.after : *change.before;
    std::erase_if(library.marks, [&](const journal::Mark& mark) { return same_mark(mark, any); });
    if (change.after) library.marks.push_back(*change.after);
}

template <class Entry>
void rename(std::optional<Entry>& entry, const std::string& from, const std::string& to) {
    if constexpr (!std::is_same_v<Entry, journal::Mark>) {
        if (entry && entry->id == from) entry->id = to;
    }
}

}  // namespace

Change reversed(const Change& change) {
    return std::visit(
        [](const auto& entry) -> Change {
            auto back = entry;
            std::swap(back.before, back.after);
            return back;
        },
        change);
}

Edit reversed(const Edit& edit) {
    Edit back{edit.title, {}};
    for (auto change = edit.changes.rbegin(); change != edit.changes.rend(); ++change)
        back.changes.push_back(reversed(*change));
    return back;
}

void apply_change(Library& library, const Change& change) {
    std::visit([&](const auto& entry) { put(library, entry); }, change);
}

void rename_entry(Change& change, const std::string& from, const std::string& to) {
    std::visit(
        [&](auto& entry) {
            rename(entry.before, from, to);
            rename(entry.after, from, to);
        },
        change);
}

void History::did(Edit edit) {
    undone_.clear();
    growing_ = false;
    done_.push_back(std::move(edit));
}

void History::grew(Edit edit) {
    if (!growing_ || done_.empty() || done_.back().title != edit.title) {
        did(std::move(edit));
        growing_ = true;
        return;
    }
    // Before of the first, after of the latest.
    Edit& last = done_.back();
    if (last.changes.size() == 1 && edit.changes.size() == 1 && last.changes[0].index() == edit.changes[0].index()) {
        std::visit([&](auto& entry) { entry.after = std::get<std::decay_t<decltype(entry)>>(edit.changes[0]).after; },
                   last.changes[0]);
    } else {
        last.changes.insert(last.changes.end(), edit.changes.begin(), edit.changes.end());
    }
}

std::optional<Edit> History::undo() {
    if (done_.empty()) return std::nullopt;
    growing_ = false;
    undone_.push_back(std::move(done_.back()));
    done_.pop_back();
    return reversed(undone_.back());
}

std::optional<Edit> History::redo() {
    if (undone_.empty()) return std::nullopt;
    growing_ = false;
    done_.push_back(std::move(undone_.back()));
    undone_.pop_back();
    return done_.back();
}

void History::rename(const std::string& from, const std::string& to) {
    for (auto* edits : {&done_, &undone_})
        for (Edit& edit : *edits)
            for (Change& change : edit.changes) rename_entry(change, from, to);
}

}  // namespace quarterturn::app
