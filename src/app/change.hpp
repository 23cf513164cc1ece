#pragma once
/// What a person changed, as values before and after: the one thing that is saved, undone and redone.
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "journal/library.hpp"

namespace quarterturn::app {

/// `before` absent: made; `after` absent: taken away.
template <class Entry>
struct EntryChange {
    std::optional<Entry> before, after;
};

using Change = std::variant<EntryChange<journal::Note>, EntryChange<journal::Mark>,
                            EntryChange<journal::HoldCorrection>, EntryChange<journal::Pin>, EntryChange<journal::Clip>,
                            EntryChange<journal::Session>, EntryChange<journal::Season>, EntryChange<journal::Athlete>>;

/// One step of undo.
struct Edit {
    std::string title;  ///< "Pin a note", for the undo hint
    std::vector<Change> changes;
};

/// The change that takes this one back.
[[nodiscard]] Change reversed(const Change& change);
/// All changes reversed, last first.
[[nodiscard]] Edit reversed(const Edit& edit);

/// Makes the change in a library held in memory: what the screen shows until the saved library is read again.
void apply_change(journal::Library& library, const Change& change);

/// An entry got another id when it was saved: names it so here too.
void rename_entry(Change& change, const std::string& from, const std::string& to);

/// Done and undone edits of this run of the program.
class History {
  public:
    void did(Edit edit);
    /// Replaces the latest edit when it has the same title and may still grow (typing): one step of undo for one text.
    void grew(Edit edit);
    /// No more growing: the next edit is a step of its own.
    void settle() { growing_ = false; }
    /// The edit to carry out to undo or redo; absent when there is none.
    [[nodiscard]] std::optional<Edit> undo();
    [[nodiscard]] std::optional<Edit> redo();
    [[nodiscard]] std::string undo_title() const { return done_.empty() ? "" : done_.back().title; }
    [[nodiscard]] std::string redo_title() const { return undone_.empty() ? "" : undone_.back().title; }
    void rename(const std::string& from, const std::string& to);

  private:
    std::vector<Edit> done_, undone_;
    bool growing_ = false;
};

}  // namespace quarterturn::app
