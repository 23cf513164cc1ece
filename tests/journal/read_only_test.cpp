#include <doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include "child_process.hpp"
#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

namespace {

using Tell = std::function<void(const std::string&)>;

void set_modes(const std::filesystem::path& folder, unsigned folders, unsigned files) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator{folder})
        (void)::chmod(entry.path().c_str(), entry.is_directory() ? folders : files);
    (void)::chmod(folder.c_str(), folders);
}

/// The superuser may write everywhere, so somebody else has to try.
bool become_nobody() {
    return ::geteuid() != 0 || (::setgid(65534) == 0 && ::setuid(65534) == 0);
}

}  // namespace

TEST_CASE("a library that is only for reading can be read, and a change says why it is refused") {
    LibraryFixture library;
    const Note note = library.note("no");
    set_modes(library.folder.path(), 0555, 0444);
    ChildProcess child{[&](const Tell& tell) {
        if (!become_nobody()) return 1;
        auto store = Store::open(library.store.folder());
        if (!store || store->read()->clips.size() != 1) return 2;
        const auto added = store->add_note(note, athlete);
        if (added || added.error().code != ErrorCode::no_permission) return 3;
        tell(added.error().detail);
        return 0;
    }};
    const auto lines = child.lines(1);
    CHECK(child.wait() == 0);
    set_modes(library.folder.path(), 0700, 0600);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].find("no permission") != std::string::npos);
    CHECK(library.read().notes.empty());
}

TEST_CASE("a library nobody may look into says so") {
    LibraryFixture library;
    set_modes(library.folder.path(), 0000, 0000);
    ChildProcess child{[&](const Tell&) {
        if (!become_nobody()) return 1;
        const auto store = Store::open(library.store.folder());
        return !store && store.error().code == ErrorCode::no_permission ? 0 : 2;
    }};
    CHECK(child.wait() == 0);
    set_modes(library.folder.path(), 0700, 0600);
}
