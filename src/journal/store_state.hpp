#pragma once
/// What the store's functions share: lock, edit counters, and the one way in which an entry is changed.
#include <filesystem>
#include <mutex>
#include <string>

#include "base/file.hpp"
#include "base/id.hpp"
#include "journal/entry_files.hpp"
#include "journal/store.hpp"

namespace quarterturn::journal {

class Store::State {
  public:
    explicit State(std::filesystem::path library) : folder(std::move(library)) {}

    const std::filesystem::path folder;

    /// The library's lock; nobody else changes anything while it is held.
    [[nodiscard]] Result<FileLock> lock();

    /// Counts the edit, fills in time and editor, writes. The lock is held.
    template <class Entry>
    [[nodiscard]] Result<Entry> commit(Entry entry, const Author& editor) {
        ++entry.edits[writer()];
        entry.edited = std::max(now(), entry.edited);
        entry.editor = editor;
        if (Status written = save_entry(folder, entry); !written) return written.error();
        return entry;
    }

    /// A new entry with an id and a beginning. The lock is held.
    template <class Entry>
    [[nodiscard]] Result<Entry> begin(Entry entry, const Author& author) {
        entry.edits.clear();
        entry.removed = false;
        entry.created = entry.edited = now();
        entry.author = author;
        return commit(std::move(entry), author);
    }

    /// @param links  says whether what the entry refers to is there: Status(const Entry&)
    template <class Entry, class Links>
    [[nodiscard]] Result<Entry> add(Entry entry, const Author& author, Links links) {
        const auto held = lock();
        if (!held) return held.error();
        if (Status there = links(entry); !there) return there.error();
        entry.id = new_id();
        return begin(std::move(entry), author);
    }

    /// @param links  as above, with the entry as it was: Status(const Entry& wanted, const Entry& before)
    template <class Entry, class Links>
    [[nodiscard]] Result<Entry> edit(Entry wanted, const Author& editor, Links links) {
        const auto held = lock();
        if (!held) return held.error();
        auto before = load_entry<Entry>(folder, wanted.id);
        if (!before) return before;
        if (before->removed) return was_removed<Entry>();
        if (before->edits != wanted.edits) return was_changed<Entry>();
        static_cast<Record&>(wanted) = *before;
        if (wanted == *before) return before;
        if (Status there = links(wanted, *before); !there) return there.error();
        return commit(std::move(wanted), editor);
    }

    /// Takes an entry away or brings it back; it is no error when it is so already.
    template <class Entry>
    [[nodiscard]] Result<Entry> set_removed(const std::string& id, bool removed, const Author& editor) {
        auto entry = load_entry<Entry>(folder, id);
        if (!entry || entry->removed == removed) return entry;
        entry->removed = removed;
        return commit(*std::move(entry), editor);
    }
    template <class Entry>
    [[nodiscard]] Result<Entry> locked_set_removed(const std::string& id, bool removed, const Author& editor) {
        const auto held = lock();
        if (!held) return held.error();
        return set_removed<Entry>(id, removed, editor);
    }

    /// There is such an entry and it was not removed.
    template <class Entry>
    [[nodiscard]] Status need(const std::string& id) const {
        const auto entry = load_entry<Entry>(folder, id);
        if (!entry) return entry.error();
        if (entry->removed) return was_removed<Entry>();
        return ok();
    }

    /// Those of a kind that can be read and were not removed.
    template <class Entry>
    [[nodiscard]] std::vector<Entry> all() const {
        std::vector<UnreadableDocument> ignored;
        return load_entries<Entry>(folder, false, ignored);
    }

    [[nodiscard]] static Instant now();

  private:
    template <class Entry>
    [[nodiscard]] static Error was_removed() {
        return {ErrorCode::not_found, "That " + std::string{Kind<Entry>::noun} + " was removed."};
    }
    template <class Entry>
    [[nodiscard]] static Error was_changed() {
        return {ErrorCode::conflict, "Somebody else changed that " + std::string{Kind<Entry>::noun} +
                                         " in the meantime. Look at it again and repeat your change."};
    }
    const std::string& writer();
    void sweep();

    std::mutex mutex_;  ///< one store may be used by several threads
    std::string writer_;
    bool swept_ = false;
};

}  // namespace quarterturn::journal
