#include <sys/stat.h>

#include <tuple>

#include "journal/mark_files.hpp"
#include "journal/store_state.hpp"

namespace quarterturn::journal {
namespace {

namespace fs = std::filesystem;

void read_athlete_into(const fs::path& folder, Library& library) {
    auto athlete = load_entry<Athlete>(folder, "athlete");
    if (athlete) {
        library.athlete = *std::move(athlete);
        return;
    }
    library.athlete.id = "athlete";
    library.unreadable.push_back({entry_file<Athlete>(folder, "athlete"), athlete.error()});
}

void sort(Library& library) {
    std::sort(library.seasons.begin(), library.seasons.end(), [](const Season& a, const Season& b) {
        return std::tie(a.show_date, a.id) < std::tie(b.show_date, b.id);
    });
    std::sort(library.sessions.begin(), library.sessions.end(),
              [](const Session& a, const Session& b) { return std::tie(a.date, a.id) < std::tie(b.date, b.id); });
    // Clips whose clock was lost come after the others, by name.
    std::sort(library.clips.begin(), library.clips.end(), [](const Clip& a, const Clip& b) {
        const auto key = [](const Clip& clip) {
            return std::tuple{!clip.recorded_at.has_value(), clip.recorded_at, std::string_view{clip.original_name},
                              std::string_view{clip.id}};
        };
        return key(a) < key(b);
    });
}

/// Mixes name, inode, size and times of one file into the token (FNV-1a): every write of ours is a new inode, and an
/// edit in place changes size or time.
class Token {
  public:
    void add(std::string_view text) {
        for (const char c : text) value_ = (value_ ^ static_cast<std::uint8_t>(c)) * 0x100000001B3ULL;
    }
    void add_file(const fs::path& path) {
        struct stat facts {};
        if (::stat(path.c_str(), &facts) != 0) return;
        add(path.native());
        add_number(static_cast<std::uint64_t>(facts.st_ino));
        add_number(static_cast<std::uint64_t>(facts.st_size));
        add_number(static_cast<std::uint64_t>(facts.st_mtim.tv_sec));
        add_number(static_cast<std::uint64_t>(facts.st_mtim.tv_nsec));
    }
    [[nodiscard]] std::uint64_t value() const { return value_; }

  private:
    void add_number(std::uint64_t number) {
        for (int byte = 0; byte < 8; ++byte) value_ = (value_ ^ ((number >> (8 * byte)) & 0xFFU)) * 0x100000001B3ULL;
    }
    std::uint64_t value_ = 0xCBF29CE484222325ULL;
};

}  // namespace

Result<Library> Store::read(bool with_removed) const {
    const fs::path& folder = state_->folder;
    const auto text = read_file(folder / "library.json", largest_document);
    if (!text) return text.error();
    const auto facts = read_library_facts(*text);
    if (!facts) return at_document(folder / "library.json", facts.error());
    Library library;
    library.id = facts->id;
    library.title = facts->title;
    // Without a lock: what refers to others is read before what it refers to, so that nothing dangles when another
    // program adds a session with its clips meanwhile.
    auto& unreadable = library.unreadable;
    library.hold_corrections = load_entries<HoldCorrection>(folder, with_removed, unreadable);
    library.pins = load_entries<Pin>(folder, with_removed, unreadable);
    library.marks = load_marks(folder, unreadable);
    library.notes = load_entries<Note>(folder, with_removed, unreadable);
    library.clips = load_entries<Clip>(folder, with_removed, unreadable);
    library.sessions = load_entries<Session>(folder, with_removed, unreadable);
    library.seasons = load_entries<Season>(folder, with_removed, unreadable);
    read_athlete_into(folder, library);
    sort(library);
    return library;
}

std::uint64_t Store::revision() const {
    Token token;
    const fs::path journal = state_->folder / "journal";
    token.add_file(state_->folder / "library.json");
    token.add_file(journal / "athlete.json");
    for (const char* name : {"seasons", "sessions", "clips", "notes", "marks", "hold_corrections", "pins"}) {
        for (const fs::path& path : documents_in(journal / name)) token.add_file(path);
    }
    for (const fs::path& path : documents_in(state_->folder / "rules")) token.add_file(path);
    return token.value();
}

}  // namespace quarterturn::journal
