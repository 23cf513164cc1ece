#include "journal/document.hpp"

#include <doctest.h>

#include "base/file.hpp"
#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

namespace {

/// A kind of document that was at version 0, where it said "who", and at version 1, where that became "name"; version 2
/// splits off the role.
DocumentFormat invented() {
    return {"quarterturn.invented",
            2,
            {[](Json& document) {
                 document["name"] = document["who"];
                 document.erase("who");
             },
             [](Json& document) { document["role"] = "athlete"; }}};
}

}  // namespace

TEST_CASE("an older document is brought up step by step, unknown fields and all") {
    const auto document =
        read_document(R"({"format": "quarterturn.invented", "version": 0, "who": "Ida", "extra": [1]})", invented());
    REQUIRE(document);
    CHECK(*document == Json({{"format", "quarterturn.invented"},
                             {"version", 2},
                             {"name", "Ida"},
                             {"role", "athlete"},
                             {"extra", Json::array({1})}}));
}

TEST_CASE("a document one version behind takes only the last step") {
    const auto document =
        read_document(R"({"format": "quarterturn.invented", "version": 1, "name": "Ida", "who": "?"})", invented());
    REQUIRE(document);
    CHECK((*document)["name"] == "Ida");
    CHECK((*document)["who"] == "?");
    CHECK((*document)["role"] == "athlete");
}

TEST_CASE("a version no step leads up from is refused") {
    DocumentFormat format = invented();
    format.upgrades.erase(format.upgrades.begin());
    const auto document = read_document(R"({"format": "quarterturn.invented", "version": 0})", format);
    CHECK(document.error().detail == "version: 0 was never used for this kind of document");
}

TEST_CASE("a newer document is refused with advice") {
    const auto document = read_document(R"({"format": "quarterturn.invented", "version": 3})", invented());
    REQUIRE_FALSE(document);
    CHECK(document.error().code == ErrorCode::newer_version);
    CHECK(document.error().detail ==
          "It has version 3, this program knows 2. It is left as it is; use a newer program.");
}

TEST_CASE("a note of a newer program is left untouched by every change, the rest of the library works") {
    LibraryFixture library;
    const Note note = library.store.add_note(library.note("old"), athlete).value();
    const auto path = library.store.folder() / "journal" / "notes" / (note.id + ".json");
    std::string text = read_file(path).value();
    text.replace(text.find("\"version\": 1"), 12, "\"version\": 9");
    REQUIRE(write_file(path, text));

    const Library read = library.read();
    CHECK(read.notes.empty());
    REQUIRE(read.unreadable.size() == 1);
    CHECK(read.unreadable.front().error.code == ErrorCode::newer_version);
    CHECK(library.store.edit_note(note, athlete).error().code == ErrorCode::newer_version);
    CHECK(library.store.remove_note(note.id, athlete).error().code == ErrorCode::newer_version);
    CHECK(read_file(path).value() == text);
    CHECK(library.store.add_note(library.note("new"), athlete));
}

TEST_CASE("a library of a newer program is not opened") {
    const LibraryFixture library;
    const auto path = library.store.folder() / "library.json";
    std::string text = read_file(path).value();
    text.replace(text.find("\"version\": 1"), 12, "\"version\": 2");
    REQUIRE(write_file(path, text));
    CHECK(Store::open(library.store.folder()).error().code == ErrorCode::newer_version);
    CHECK(read_file(path).value() == text);
}
