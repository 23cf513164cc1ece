#include <algorithm>
#include <cstdint>

#include "app/cards.hpp"

namespace quarterturn::app {
namespace {

// Lower case for Latin-1, Latin Extended-A, Greek and Cyrillic: what the fonts are sure to cover.
std::uint32_t lower(std::uint32_t c) {
    if (c >= 'A' && c <= 'Z') return c + 32;
    if (c >= 0xC0 && c <= 0xDE && c != 0xD7) return c + 32;
    if (c >= 0x100 && c <= 0x17F) {
        const bool odd_is_small = (c < 0x138) || (c >= 0x14A && c <= 0x177);
        if (odd_is_small) return c | 1U;
        const bool odd_is_large = (c >= 0x139 && c <= 0x148) || (c >= 0x179 && c <= 0x17E);
        return odd_is_large && c % 2 == 1 ? c + 1 : c;
    }
    if (c >= 0x391 && c <= 0x3A9) return c + 32;
    if (c >= 0x410 && c <= 0x42F) return c + 32;
    if (c >= 0x400 && c <= 0x40F) return c + 80;
    return c;
}

std::u32string lowered(std::string_view text) {
    std::u32string result;
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
        std::uint32_t point = length == 1 ? lead : lead & (0xFFU >> (length + 1));
        for (std::size_t k = 1; k < length && i + k < text.size(); ++k)
            point = point << 6U | (static_cast<unsigned char>(text[i + k]) & 0x3FU);
        result.push_back(lower(point));
        i += length;
    }
    return result;
}

bool passes(const ReviewState& state, const journal::Note& note) {
    const Desk& desk = state.desk;
    if (desk.filter == NoteFilter::to_do && note.done) return false;
    if (desk.filter == NoteFilter::done && !note.done) return false;
    if (desk.topic && note.topic != *desk.topic) return false;
    return matches(note, desk.search);
}

}  // namespace

bool matches(const journal::Note& note, std::string_view search) {
    const std::u32string text =
        lowered(note.text + "\n" + std::string(rules::topic_title(note.topic)) + "\n" + note.author.name);
    const std::u32string wanted = lowered(search);
    for (std::size_t start = 0; start < wanted.size();) {
        const std::size_t end = std::min(wanted.find(U' ', start), wanted.size());
        if (end > start && text.find(wanted.substr(start, end - start)) == std::u32string::npos) return false;
        start = end + 1;
    }
    return true;
}

std::vector<const journal::Note*> notes_of(const ReviewState& state, const Card& card) {
    std::vector<const journal::Note*> notes;
    if (!state.library || !state.clip) return notes;
    for (const auto& note : state.library->notes) {
        if (note.clip != state.clip->fingerprint || note.pose.value_or("") != card.pose) continue;
        // The one being written never disappears under the person's hands.
        if (passes(state, note) || note.id == state.desk.note) notes.push_back(&note);
    }
    const auto when = [](const journal::Note* note) { return note->moment ? note->moment->start_pts : INT64_MIN; };
    std::stable_sort(notes.begin(), notes.end(), [&](const auto* a, const auto* b) { return when(a) < when(b); });
    return notes;
}

}  // namespace quarterturn::app
