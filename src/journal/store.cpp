#include "journal/store.hpp"

#include <fmt/format.h>

#include <array>

#include "journal/store_state.hpp"

namespace quarterturn::journal {
namespace {

namespace fs = std::filesystem;

constexpr std::array<std::string_view, 7> journal_folders{"seasons", "sessions",         "clips", "notes",
                                                          "marks",   "hold_corrections", "pins"};

/// Nothing but what a creation that was cut short may have left.
bool is_free(const fs::path& folder) {
    std::error_code failure;
    fs::recursive_directory_iterator entry{folder, failure};
    while (!failure && entry != fs::recursive_directory_iterator{}) {
        const std::string name = entry->path().filename().string();
        const bool ours = name == "lock" || name == "athlete.json" || name == "writer.json" || name.ends_with(".part");
        if (!entry->is_directory(failure) && !ours) return false;
        entry.increment(failure);
    }
    return !failure;
}

Result<LibraryFacts> read_facts(const fs::path& folder) {
    const fs::path path = folder / "library.json";
    const auto text = read_file(path, largest_document);
    if (!text && text.error().code == ErrorCode::not_found)
        return Error{
            ErrorCode::not_found,
            fmt::format("{} is not a library. Create one there first, or name another folder.", folder.string())};
    if (!text) return text.error();
    auto facts = read_library_facts(*text);
    if (!facts) return at_document(path, facts.error());
    return facts;
}

Status make_folders(const fs::path& folder) {
    for (const std::string_view name : journal_folders) {
        if (Status made = make_folder(folder / "journal" / name); !made) return made;
    }
    return make_folder(folder / "rules");
}

Athlete new_athlete() {
    Athlete athlete;
    athlete.id = "athlete";
    return athlete;
}

}  // namespace

Store::Store(std::unique_ptr<State> state) : state_(std::move(state)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Result<Store> Store::create(const fs::path& folder, const std::string& title, const Author& author) {
    if (Status made = make_folder(folder); !made) return made.error();
    std::error_code failure;
    auto state = std::make_unique<State>(fs::absolute(folder, failure));
    const Error taken{ErrorCode::conflict, fmt::format("{} is a library already.", folder.string())};
    if (fs::exists(folder / "library.json", failure)) return taken;
    if (!is_free(folder))
        return Error{
            ErrorCode::conflict,
            fmt::format("{} holds other files. Choose a folder that is empty or not there yet.", folder.string())};
    const auto held = state->lock();
    if (!held) return held.error();
    if (fs::exists(folder / "library.json", failure)) return taken;
    if (Status made = make_folders(state->folder); !made) return made.error();
    if (auto athlete = state->begin(new_athlete(), author); !athlete) return athlete.error();
    // Last, because this is what makes the folder a library.
    const LibraryFacts facts{new_id(), title, State::now(), {}};
    const std::string text = write_text(facts);
    const auto again = read_library_facts(text);
    if (!again || !(*again == facts)) return Error{ErrorCode::bad_input, "The library's title is not UTF-8 text."};
    if (Status written = write_file(state->folder / "library.json", text); !written) return written.error();
    return Store{std::move(state)};
}

Result<Store> Store::open(const fs::path& folder) {
    if (auto facts = read_facts(folder); !facts) return facts.error();
    std::error_code failure;
    return Store{std::make_unique<State>(fs::absolute(folder, failure))};
}

const fs::path& Store::folder() const {
    return state_->folder;
}
fs::path Store::cache_folder() const {
    return state_->folder / "cache";
}
fs::path Store::rules_folder() const {
    return state_->folder / "rules";
}

}  // namespace quarterturn::journal
