#pragma once
/// A library with one season, one session and one clip, made anew for each test case.
#include <string>

#include "journal/store.hpp"
#include "temporary_folder.hpp"

namespace quarterturn::test {

inline const journal::Author athlete{"Ida", journal::Role::athlete};
inline const journal::Author coach{"Rolf", journal::Role::coach};
inline const journal::Author program{"", journal::Role::program};

/// "sha256:" and the digit 64 times.
[[nodiscard]] std::string fingerprint(char digit);

/// 2026-03-07, 10:15 UTC.
[[nodiscard]] Instant a_morning();

/// UTC everywhere, so that no test depends on this machine's time zone.
[[nodiscard]] journal::AddOptions utc();

/// Facts of a film named `name` with the given digit's fingerprint, last written at a_morning(), with its own clock.
[[nodiscard]] journal::ClipFacts film(char digit, const std::string& name);

struct LibraryFixture {
    LibraryFixture();
    [[nodiscard]] journal::Note note(const std::string& text) const;
    [[nodiscard]] journal::Library read() const { return store.read().value(); }

    TemporaryFolder folder;
    journal::Store store;
    journal::Season season;
    std::string session;
    std::string clip;
};

}  // namespace quarterturn::test
