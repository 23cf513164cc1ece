#include "journal/clip_files.hpp"

#include <doctest.h>
#include <fmt/format.h>
#include <sys/stat.h>

#include "base/file.hpp"
#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

namespace {

namespace fs = std::filesystem;

/// Stands in for SHA-256, which this room does not bring: FNV-1a four times over.
Result<std::string> hash_of(const fs::path& file) {
    const auto bytes = read_file(file);
    if (!bytes) return bytes.error();
    std::string hex = "sha256:";
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
        std::uint64_t hash = 0xCBF29CE484222325ULL * seed;
        for (const char c : *bytes) hash = (hash ^ static_cast<std::uint8_t>(c)) * 0x100000001B3ULL;
        hex += fmt::format("{:016x}", hash);
    }
    return hex;
}

/// A library with one real film file in a folder beside it.
struct FilmLibrary : LibraryFixture {
    FilmLibrary() : films(folder.path() / "films"), file(films / "practice.mp4") {
        REQUIRE(make_folder(films / "below"));
        REQUIRE(write_file(file, "moving pictures"));
        REQUIRE(store.remove_clip(clip, athlete));
        ClipFacts facts = film('a', "practice.mp4");
        facts.path = file;
        facts.file_bytes = fs::file_size(file);
        facts.fingerprint = hash_of(file).value();
        REQUIRE(store.add_clips(season.id, {&facts, 1}, utc(), athlete));
        clip = facts.fingerprint;
    }
    [[nodiscard]] std::vector<Finding> check() const {
        const std::vector<fs::path> places{films};
        return check_library(store, places, hash_of).value();
    }
    /// @return its id
    std::string add_note(const std::string& text) {
        Note note;
        note.session = session;
        note.clip = clip;
        note.text = text;
        const auto added = store.add_note(note, athlete);
        REQUIRE(added);
        return added->id;
    }

    fs::path films, file;
};

}  // namespace

TEST_CASE("a healthy library has no findings") {
    const FilmLibrary library;
    CHECK(library.check().empty());
}

TEST_CASE("a film is copied into the library for its owner only, once") {
    const FilmLibrary library;
    const std::string kept = copy_into_library(library.store.folder(), library.file, library.clip, hash_of).value();
    CHECK(kept.starts_with("clips/practice."));
    const fs::path copy = library.store.folder() / kept;
    CHECK(read_file(copy).value() == "moving pictures");
    struct stat facts {};
    REQUIRE(::stat(copy.c_str(), &facts) == 0);
    CHECK((facts.st_mode & 0777U) == 0600U);
    CHECK(copy_into_library(library.store.folder(), library.file, library.clip, hash_of).value() == kept);
    CHECK(std::distance(fs::directory_iterator{library.store.folder() / "clips"}, {}) == 1);
}

TEST_CASE("a film that changed since it was hashed is not copied as that film") {
    const FilmLibrary library;
    const auto copied = copy_into_library(library.store.folder(), library.file, fingerprint('0'), hash_of);
    CHECK(copied.error().code == ErrorCode::conflict);
    CHECK(fs::is_empty(library.store.folder() / "clips"));
}

TEST_CASE("a moved and renamed film is found by its fingerprint") {
    const FilmLibrary library;
    const fs::path now = library.films / "below" / "renamed.bin";
    fs::rename(library.file, now);
    REQUIRE(write_file(library.films / "same size.mp4", "moving pictureS"));
    const std::vector<fs::path> places{library.films};
    const Clip clip = *library.read().find_clip(library.clip);
    CHECK(find_clip_file(library.store.folder(), clip, places, hash_of).value() == now);
    CHECK(find_clip_file(library.store.folder(), clip, {}, hash_of).error().code == ErrorCode::not_found);
    const auto findings = library.check();
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].trouble == Trouble::moved);
    CHECK(findings[0].found == now);
}

TEST_CASE("a missing and a changed film are told apart, with what to do") {
    const FilmLibrary library;
    REQUIRE(write_file(library.file, "other pictures"));
    auto findings = library.check();
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].trouble == Trouble::changed);
    CHECK(findings[0].clip == library.clip);
    fs::remove(library.file);
    findings = library.check();
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].trouble == Trouble::missing);
    CHECK(findings[0].what_to_do.find("Add it again") != std::string::npos);
    REQUIRE(make_folder(library.file));
    CHECK(library.check()[0].trouble == Trouble::unreadable);
}

TEST_CASE("broken, newer and dangling documents are found") {
    const FilmLibrary library;
    const fs::path journal = library.store.folder() / "journal";
    REQUIRE(write_file(journal / "notes" / "0190a0a0-0000-7000-8000-000000000009.json", "{"));
    fs::remove(journal / "sessions" / (library.session + ".json"));
    const auto findings = library.check();
    REQUIRE(findings.size() == 2);
    CHECK(findings[0].trouble == Trouble::unreadable);
    // The finding names the file; what to do does not name it again.
    CHECK(findings[0].what_to_do.starts_with("It cannot be read ("));
    CHECK(findings[0].what_to_do.find(findings[0].path.string()) == std::string::npos);
    CHECK(findings[1].trouble == Trouble::dangling);
}

TEST_CASE("a second copy of a document can be read, and is told to be one") {
    FilmLibrary library;
    const std::string note = library.add_note("kept");
    const fs::path notes = library.store.folder() / "journal" / "notes";
    fs::copy_file(notes / (note + ".json"), notes / (note + " (copy).json"));
    const auto findings = library.check();
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].what_to_do.find("It cannot be read") == std::string::npos);
    CHECK(findings[0].what_to_do.find("second copy") != std::string::npos);
}

TEST_CASE("a backup is a library of its own with its films inside") {
    FilmLibrary library;
    library.add_note("kept");
    const fs::path destination = library.folder.path() / "backup";
    std::size_t told = 0;
    const auto report =
        backup_library(library.store, destination, hash_of, [&](std::size_t, std::size_t) { ++told; }).value();
    CHECK(report.clips == 1);
    CHECK(report.left_out.empty());
    CHECK(told == 2);

    fs::remove_all(library.films);
    fs::remove_all(library.store.folder());
    const Store restored = Store::open(destination).value();
    CHECK(restored.read()->notes.front().text == "kept");
    CHECK(check_library(restored, {}, hash_of).value().empty());
    CHECK_FALSE(fs::exists(destination / "cache"));
}

TEST_CASE("a backup says what it could not copy and copies the rest") {
    FilmLibrary library;
    REQUIRE(write_file(library.file, "other pictures."));
    const auto report = backup_library(library.store, library.folder.path() / "backup", hash_of).value();
    REQUIRE(report.left_out.size() == 1);
    CHECK(report.left_out[0].trouble == Trouble::changed);
    CHECK(Store::open(library.folder.path() / "backup")->read()->clips.size() == 1);
}

TEST_CASE("a backup goes neither over something nor into the library itself") {
    FilmLibrary library;
    CHECK(backup_library(library.store, library.films, hash_of).error().code == ErrorCode::conflict);
    CHECK(backup_library(library.store, library.store.folder() / "backup", hash_of).error().code ==
          ErrorCode::conflict);
    CHECK_FALSE(fs::exists(library.store.folder() / "backup"));
}

TEST_CASE("a backup that was cut short is no library") {
    FilmLibrary library;
    const fs::path destination = library.folder.path() / "backup";
    const Hash stops = [](const fs::path&) -> Result<std::string> { return Error{ErrorCode::no_space, "Full."}; };
    CHECK(backup_library(library.store, destination, stops).error().code == ErrorCode::no_space);
    CHECK(Store::open(destination).error().code == ErrorCode::not_found);
}
