#pragma once
/// Opening the library a command works on, and finding its entries by what people type.
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "cli/context.hpp"
#include "journal/store.hpp"

namespace quarterturn::cli {

/// A library with what it held when the command began.
struct OpenLibrary {
    journal::Store store;
    journal::Library now;
    journal::Author author;  ///< --author and --role, else the library's athlete
};

/// @error as journal::Store::open, with how to create one when there is none
[[nodiscard]] Result<OpenLibrary> open_library(const Context& context);

/// By id, title or show date; empty text: the only season, else the one whose show is next (or was last).
/// @error not_found, bad_input (several fit)
[[nodiscard]] Result<journal::Season> find_season(const journal::Library& library, std::string_view text);

/// By id (or its end) or date; empty text: the latest session.
[[nodiscard]] Result<journal::Session> find_session(const journal::Library& library, std::string_view text);

/// By file name, path or the beginning of the fingerprint.
[[nodiscard]] Result<journal::Clip> find_clip(const journal::Library& library, std::string_view text);

/// By id or its end.
[[nodiscard]] Result<journal::Note> find_note(const journal::Library& library, std::string_view text);

/// A mistyped pose would be kept and never be found again. @param session  its id
/// @error not_found: neither the catalogue nor the rule set of the session's season has it
[[nodiscard]] Status check_pose(const OpenLibrary& library, std::string_view session, const std::string& pose);

/// The end of an id that tables show and commands accept.
[[nodiscard]] std::string short_id(std::string_view id);

}  // namespace quarterturn::cli
