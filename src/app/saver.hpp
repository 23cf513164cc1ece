#pragma once
/// Carries edits to a library on disk: what a person changed, and only that, is laid over the entry as it is stored
/// now, so that a change another program made meanwhile stays.
#include <map>
#include <set>
#include <string>
#include <vector>

#include "app/change.hpp"
#include "base/result.hpp"
#include "journal/store.hpp"

namespace quarterturn::app {

/// The note with the fields that differ between `before` and `after` set; all others as in `stored`. Where the text was
/// changed in both, the stored text stays and `text_apart` says that ours has to become a note of its own.
struct MergedNote {
    journal::Note note;
    bool text_apart = false;
};
[[nodiscard]] MergedNote merged(const journal::Note& before, const journal::Note& after, const journal::Note& stored);

class Saver {
  public:
    explicit Saver(journal::Store store) : store_(std::move(store)) {}

    /// An entry that got another id when it was stored.
    struct NewName {
        std::string from, to;
    };
    /// Stores all changes of an edit. New names that came up are appended.
    /// @param stored  set to how many changes are on disk; on failure the one after them was not stored
    /// @error as Store's writing functions; changes before the failing one are stored
    [[nodiscard]] Status save(const Edit& edit, const journal::Author& author, std::vector<NewName>& names,
                              std::size_t* stored = nullptr);

    [[nodiscard]] Result<journal::Library> read();
    [[nodiscard]] std::uint64_t revision() const { return store_.revision(); }
    [[nodiscard]] journal::Store& store() { return store_; }

  private:
    Status save_one(const EntryChange<journal::Note>& change);
    Status save_one(const EntryChange<journal::Mark>& change);
    Status save_one(const EntryChange<journal::HoldCorrection>& change);
    Status save_one(const EntryChange<journal::Pin>& change);
    Status save_one(const EntryChange<journal::Clip>& change);
    Status save_one(const EntryChange<journal::Session>& change);
    Status save_one(const EntryChange<journal::Season>& change);
    Status save_one(const EntryChange<journal::Athlete>& change);
    Status add(const journal::Note& note);
    Status edit(const journal::Note& before, const journal::Note& after);
    [[nodiscard]] std::string stored_id(const std::string& id) const;
    void named(const std::string& from, const std::string& to);

    journal::Store store_;
    journal::Author author_;
    std::map<std::string, std::string> names_;  ///< id in the window -> id in the store
    std::set<std::string> known_;               ///< ids that are or were in the store
    std::vector<NewName> new_names_;
};

}  // namespace quarterturn::app
