#pragma once
/// A library on disk: a folder of readable JSON documents (docs/library_format.md).
///
/// Reading takes no lock and gives a snapshot. Every change takes the library's lock, reads the entry again, checks
/// that nobody changed it since the caller read it, and is on disk for good when the function returns: two programs on
/// one library lose no edit, and a program killed at any moment loses nothing it was told is kept.
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "journal/camera_roll.hpp"
#include "journal/library.hpp"

namespace quarterturn::journal {

/// Errors of every writing function: no_permission (a folder for reading only), no_space, io; newer_version (the entry
/// was written by a newer program and is left untouched); bad_input (a field is out of its range; the sentence names
/// it); not_found (no such entry, or what it refers to is not there); conflict (somebody else changed it: read again).
class Store {
  public:
    /// Makes the folder a new library.
    /// @error conflict: it is one already, or the folder holds other files
    [[nodiscard]] static Result<Store> create(const std::filesystem::path& folder, const std::string& title,
                                              const Author& author);
    /// @error not_found: no such folder, or not a library; newer_version; bad_input; no_permission
    [[nodiscard]] static Result<Store> open(const std::filesystem::path& folder);

    Store(Store&&) noexcept;
    Store& operator=(Store&&) noexcept;
    ~Store();

    [[nodiscard]] const std::filesystem::path& folder() const;
    [[nodiscard]] std::filesystem::path cache_folder() const;  ///< may be deleted at any time
    [[nodiscard]] std::filesystem::path rules_folder() const;  ///< the person's own rule sets

    /// Everything, as it is now. Single documents that cannot be read are listed in Library::unreadable.
    /// @error as open()
    [[nodiscard]] Result<Library> read(bool with_removed = false) const;

    /// Changes when anything in the library does, also by another program. Costs a look at the folder listings, reads
    /// no document.
    [[nodiscard]] std::uint64_t revision() const;

    // Entries are given with their own fields set; the store fills in id, counters and times, and gives back what it
    // wrote. `edit_...` takes an entry as read, changed; its edit counters say which version was read. `editor` is who
    // changes it.
    [[nodiscard]] Result<Athlete> edit_athlete(Athlete athlete, const Author& editor);

    [[nodiscard]] Result<Season> add_season(Season season, const Author& author);
    [[nodiscard]] Result<Season> edit_season(Season season, const Author& editor);
    /// @error conflict: it still has sessions
    [[nodiscard]] Status remove_season(const std::string& id, const Author& editor);

    /// A session a person starts by herself; @error conflict: the season has one on that date
    [[nodiscard]] Result<Session> add_session(Session session, const Author& author);
    /// Also moves it to another date (set date, and date_source to given).
    [[nodiscard]] Result<Session> edit_session(Session session, const Author& editor);
    /// @error conflict: it still has clips or notes
    [[nodiscard]] Status remove_session(const std::string& id, const Author& editor);

    /// Adds the clips that are new to the library to the season's sessions, making those that are missing
    /// (camera_roll.hpp). Known ones are skipped; a removed one comes back.
    [[nodiscard]] Result<ClipsAdded> add_clips(const std::string& season, std::span<const ClipFacts> clips,
                                               const AddOptions& options, const Author& author);
    /// counts, speed, mirrored, rotation, tilt, path; also moves it to another session.
    [[nodiscard]] Result<Clip> edit_clip(Clip clip, const Author& editor);
    /// The film file itself stays where it is.
    [[nodiscard]] Status remove_clip(const std::string& fingerprint, const Author& editor);

    [[nodiscard]] Result<Note> add_note(Note note, const Author& author);
    [[nodiscard]] Result<Note> edit_note(Note note, const Author& editor);
    [[nodiscard]] Status remove_note(const std::string& id, const Author& editor);
    /// Brings a removed note back (undo).
    [[nodiscard]] Result<Note> restore_note(const std::string& id, const Author& editor);

    /// Sets one mark or several (Mark::author gives whose). An absent value takes the mark back.
    /// @error bad_input: a value outside 0..4
    [[nodiscard]] Result<Mark> set_mark(Mark mark);
    [[nodiscard]] Status set_marks(std::span<const Mark> marks);

    [[nodiscard]] Result<HoldCorrection> add_hold_correction(HoldCorrection correction, const Author& author);
    [[nodiscard]] Result<HoldCorrection> edit_hold_correction(HoldCorrection correction, const Author& editor);
    [[nodiscard]] Status remove_hold_correction(const std::string& id, const Author& editor);
    [[nodiscard]] Result<HoldCorrection> restore_hold_correction(const std::string& id, const Author& editor);

    /// Both clips must be there when it is made.
    [[nodiscard]] Result<Pin> add_pin(Pin pin, const Author& author);
    [[nodiscard]] Result<Pin> edit_pin(Pin pin, const Author& editor);
    [[nodiscard]] Status remove_pin(const std::string& id, const Author& editor);
    [[nodiscard]] Result<Pin> restore_pin(const std::string& id, const Author& editor);

    class State;  ///< store_state.hpp; of no use outside this room

  private:
    explicit Store(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace quarterturn::journal
