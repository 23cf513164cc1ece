#include "base/file.hpp"

#include <doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>
#include <thread>

#include "temporary_folder.hpp"

using namespace quarterturn;
using test::TemporaryFolder;

TEST_CASE("what is written is read back, for the owner only") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "note.json";
    REQUIRE(write_file(path, "one"));
    REQUIRE(write_file(path, "two"));
    CHECK(read_file(path).value() == "two");
    struct stat facts {};
    REQUIRE(::stat(path.c_str(), &facts) == 0);
    CHECK((facts.st_mode & 0777U) == 0600U);
}

TEST_CASE("a failed write leaves the old file and no rubbish") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "taken";
    REQUIRE(make_folder(path / "inside"));
    const Status status = write_file(path, "bytes");  // renaming a file over a folder fails
    CHECK_FALSE(status);
    CHECK(std::distance(std::filesystem::directory_iterator{folder.path()}, {}) == 1);
}

TEST_CASE("errors name the cause") {
    const TemporaryFolder folder;
    CHECK(read_file(folder.path() / "absent").error().code == ErrorCode::not_found);
    CHECK(read_file(folder.path()).error().code == ErrorCode::bad_input);
    CHECK(write_file(folder.path() / "no" / "where", "x").error().code == ErrorCode::not_found);
    REQUIRE(write_file(folder.path() / "large", std::string(2048, 'x')));
    CHECK(read_file(folder.path() / "large", 1024).error().code == ErrorCode::bad_input);
    CHECK(make_folder(folder.path() / "large" / "inside").error().code == ErrorCode::conflict);
}

TEST_CASE("a full disk and a read-only one are named as such") {
    CHECK(system_error(ENOSPC, "write", "note.json").code == ErrorCode::no_space);
    CHECK(system_error(EROFS, "write", "note.json").code == ErrorCode::no_permission);
}

TEST_CASE("a lock keeps out the second holder until the first lets go") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "lock";
    int counter = 0;
    const auto add_many = [&] {
        for (int i = 0; i < 200; ++i) {
            const auto lock = FileLock::acquire(path);
            if (!lock) return;
            const int seen = counter;
            std::this_thread::yield();
            counter = seen + 1;
        }
    };
    {
        const std::jthread first{add_many};
        const std::jthread second{add_many};
    }
    CHECK(counter == 400);
}
