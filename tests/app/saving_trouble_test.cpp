#include <doctest.h>
#include <sys/resource.h>

#include <csignal>
#include <thread>

#include "app/library_keeper.hpp"
#include "base/id.hpp"
#include "desk.hpp"
#include "one_clip_library.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::app;
using quarterturn::test::mara;
using quarterturn::test::TemporaryFolder;

namespace {

/// While it lives no file can be written: as on a disk that is full.
class FullDisk {
  public:
    FullDisk() {
        before_ = std::signal(SIGXFSZ, SIG_IGN);
        getrlimit(RLIMIT_FSIZE, &limit_);
        rlimit none = limit_;
        none.rlim_cur = 0;
        setrlimit(RLIMIT_FSIZE, &none);
    }
    ~FullDisk() {
        setrlimit(RLIMIT_FSIZE, &limit_);
        std::signal(SIGXFSZ, before_);
    }
    FullDisk(const FullDisk&) = delete;
    FullDisk& operator=(const FullDisk&) = delete;

  private:
    rlimit limit_{};
    void (*before_)(int) = SIG_DFL;
};

template <class Kind>
void wait_for(NewsBox& news) {
    while (true) {
        for (const News& piece : news.take())
            if (std::holds_alternative<Kind>(piece)) return;
        std::this_thread::yield();
    }
}

Pending note(std::uint64_t number, const std::string& session, const std::string& text) {
    journal::Note made;
    made.id = new_id();
    made.session = session;
    made.text = text;
    return {number, {"", {EntryChange<journal::Note>{std::nullopt, made}}}};
}

}  // namespace

TEST_CASE("what the disk does not take is tried again until it does, in order, and nothing is lost") {
    const TemporaryFolder folder;
    const auto library = folder.path() / "library";
    const std::string session = test::one_clip_library(library).session;
    NewsBox news;
    LibraryKeeper keeper(news, std::chrono::milliseconds(5));
    keeper.open(library);
    wait_for<LibraryRead>(news);
    {
        const FullDisk full;
        keeper.save(note(1, session, "first"), mara);
        wait_for<SaveWaits>(news);
        keeper.save(note(2, session, "second"), mara);
        wait_for<SaveWaits>(news);
        CHECK(journal::Store::open(library)->read()->notes.empty());
    }
    wait_for<SaveDone>(news);
    const auto read = journal::Store::open(library)->read();
    REQUIRE(read->notes.size() == 2);
    CHECK(read->notes[0].text != read->notes[1].text);
}

TEST_CASE("another library is not opened over changes that are not on disk") {
    const TemporaryFolder folder;
    const std::string session = test::one_clip_library(folder.path() / "one").session;
    test::one_clip_library(folder.path() / "other");
    NewsBox news;
    LibraryKeeper keeper(news, std::chrono::milliseconds(5));
    keeper.open(folder.path() / "one");
    wait_for<LibraryRead>(news);
    {
        const FullDisk full;
        keeper.save(note(1, session, "first"), mara);
        wait_for<SaveWaits>(news);
        keeper.open(folder.path() / "other");
        wait_for<Said>(news);
    }
    wait_for<SaveDone>(news);
    CHECK(journal::Store::open(folder.path() / "one")->read()->notes.size() == 1);
}

TEST_CASE("a failed save stays on screen, keeps the edit, and quitting asks first") {
    ReviewState state = desk();
    REQUIRE(apply(state, PinNote{}));
    REQUIRE(state.draft);
    REQUIRE(apply(state, TypeNote{state.draft->note.id, "Elbows"}));
    REQUIRE_FALSE(state.saved());
    absorb(state, SaveWaits{{ErrorCode::no_space, "The disk is full."}});
    CHECK(state.save_trouble == "The disk is full.");
    CHECK_FALSE(state.saved());
    (void)take<Request::Quit>(state);
    REQUIRE(apply(state, Quit{}));
    CHECK(take<Request::Quit>(state).empty());
    REQUIRE(apply(state, Quit{}));
    CHECK(take<Request::Quit>(state).size() == 1);
    absorb(state, SaveDone{});
    CHECK_FALSE(state.save_trouble);
}
