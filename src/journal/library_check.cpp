#include <fmt/format.h>

#include <set>

#include "journal/clip_files.hpp"

namespace quarterturn::journal {
namespace {

namespace fs = std::filesystem;

class Check {
  public:
    Check(const Library& library, const fs::path& folder, std::span<const fs::path> places, const Hash& hash)
        : library_(library), folder_(folder), places_(places), hash_(hash) {}

    std::vector<Finding> run() {
        for (const UnreadableDocument& document : library_.unreadable) check_document(document);
        for (const Clip& clip : library_.clips) check_film(clip);
        check_links();
        return std::move(findings_);
    }

  private:
    /// What is wrong inside a document begins with its path, which the finding names already; anything else (a copy
    /// that a folder sync made, a disk that does not read) is a sentence with its own advice.
    static std::string what_to_do(const UnreadableDocument& document) {
        std::string what = document.error.detail;
        const std::string path = document.path.string() + ": ";
        if (!what.starts_with(path)) return what;
        what.erase(0, path.size());
        while (what.ends_with('.')) what.pop_back();
        return fmt::format("It cannot be read ({}). Take it from a backup, or move it out of the library.", what);
    }

    void check_document(const UnreadableDocument& document) {
        const bool newer = document.error.code == ErrorCode::newer_version;
        const std::string advice =
            newer ? "Use the newer program that wrote it; this one leaves it as it is." : what_to_do(document);
        findings_.push_back({newer ? Trouble::newer : Trouble::unreadable, document.path, {}, {}, advice});
    }

    void check_film(const Clip& clip) {
        const fs::path path = clip_file(folder_, clip);
        const auto found = hash_(path);
        if (found && *found == clip.fingerprint()) return;
        if (!found && found.error().code != ErrorCode::not_found) {
            findings_.push_back({Trouble::unreadable, path, clip.id, {}, found.error().detail});
            return;
        }
        Clip elsewhere = clip;
        elsewhere.path = "clips/.nowhere";  // what lies at the old path is already known to be something else
        const auto other = find_clip_file(folder_, elsewhere, places_, hash_);
        if (other) {
            findings_.push_back(
                {Trouble::moved, path, clip.id, *other,
                 fmt::format("It is at {} now. Add that file again and the library remembers.", other->string())});
        } else if (found) {
            findings_.push_back({Trouble::changed,
                                 path,
                                 clip.id,
                                 {},
                                 "The file there is another film now. Put the original back, or add this one as a new "
                                 "clip and remove the old entry."});
        } else {
            findings_.push_back({Trouble::missing,
                                 path,
                                 clip.id,
                                 {},
                                 "The film is gone. Add it again from where it is now, or restore it from a backup. "
                                 "Its notes and marks are kept."});
        }
    }

    void dangling(const std::string& what, const std::string& id, const std::string& refers_to) {
        findings_.push_back(
            {Trouble::dangling,
             fs::path{id},
             {},
             {},
             fmt::format("The {} {} belongs to a {} that is not there. If the library is synced, wait for "
                         "the rest to arrive; else restore it from a backup.",
                         what, id, refers_to)});
    }

    void check_links() {
        for (const Session& session : library_.sessions) {
            if (library_.find_season(session.season) == nullptr) dangling("session", session.id, "season");
        }
        for (const Clip& clip : library_.clips) {
            if (library_.find_session(clip.session) == nullptr) dangling("clip", clip.id, "session");
        }
        for (const Note& note : library_.notes) {
            if (library_.find_session(note.session) == nullptr) dangling("note", note.id, "session");
        }
        std::set<std::string> sessions_of_marks;
        for (const Mark& mark : library_.marks) sessions_of_marks.insert(mark.session);
        for (const std::string& session : sessions_of_marks) {
            if (library_.find_session(session) == nullptr) dangling("mark sheet", session, "session");
        }
    }

    const Library& library_;
    const fs::path& folder_;
    std::span<const fs::path> places_;
    const Hash& hash_;
    std::vector<Finding> findings_;
};

}  // namespace

Result<std::vector<Finding>> check_library(const Store& store, std::span<const fs::path> places, const Hash& hash) {
    const auto library = store.read();
    if (!library) return library.error();
    return Check{*library, store.folder(), places, hash}.run();
}

}  // namespace quarterturn::journal
