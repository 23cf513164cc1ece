// A library may be synced, merged by hand or damaged: reading any text as any kind of document must end in an entry or
// a plain refusal, and what was read must come out of a round trip the same.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "journal/documents.hpp"

namespace {

using namespace quarterturn;
using namespace quarterturn::journal;

template <class Read>
void try_reading(Read read, const std::string& text) {
    const auto entry = read(text);
    if (!entry) {
        if (entry.error().detail.empty()) std::abort();
        return;
    }
    const auto again = read(write_text(*entry));
    if (!again || !(*again == *entry)) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string text(reinterpret_cast<const char*>(data), size);
    try_reading(read_library_facts, text);
    try_reading(read_athlete, text);
    try_reading(read_season, text);
    try_reading(read_session, text);
    try_reading(read_clip, text);
    try_reading(read_note, text);
    try_reading(read_mark_sheet, text);
    try_reading(read_hold_correction, text);
    try_reading(read_pin, text);
    return 0;
}
