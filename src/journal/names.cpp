/// The words documents use for the fixed lists of this room.
#include <array>
#include <utility>

#include "journal/clip.hpp"
#include "journal/hold_correction.hpp"
#include "journal/pin.hpp"
#include "journal/record.hpp"
#include "journal/season.hpp"

namespace quarterturn::journal {
namespace {

template <class Enum, std::size_t Count>
using Words = std::array<std::pair<Enum, std::string_view>, Count>;

constexpr Words<Role, 3> roles{{{Role::athlete, "athlete"}, {Role::coach, "coach"}, {Role::program, "program"}}};

constexpr Words<DateSource, 4> date_sources{{{DateSource::given, "given"},
                                             {DateSource::recording, "recording"},
                                             {DateSource::file_name, "file_name"},
                                             {DateSource::file_date, "file_date"}}};

constexpr Words<SpeedSource, 3> speed_sources{
    {{SpeedSource::assumed, "assumed"}, {SpeedSource::tagged, "tagged"}, {SpeedSource::given, "given"}}};

constexpr Words<CorrectionKind, 6> correction_kinds{{{CorrectionKind::relabelled, "relabelled"},
                                                     {CorrectionKind::bounds, "bounds"},
                                                     {CorrectionKind::split, "split"},
                                                     {CorrectionKind::joined, "joined"},
                                                     {CorrectionKind::added, "added"},
                                                     {CorrectionKind::removed, "removed"}}};

constexpr Words<PinKind, 3> pin_kinds{
    {{PinKind::holds, "holds"}, {PinKind::moments, "moments"}, {PinKind::alone, "alone"}}};

template <class Enum, std::size_t Count>
std::string_view word_of(const Words<Enum, Count>& words, Enum value) {
    for (const auto& [known, word] : words) {
        if (known == value) return word;
    }
    return {};
}

template <class Enum, std::size_t Count>
std::optional<Enum> find_word(const Words<Enum, Count>& words, std::string_view wanted) {
    for (const auto& [value, word] : words) {
        if (word == wanted) return value;
    }
    return std::nullopt;
}

}  // namespace

std::string_view role_id(Role role) {
    return word_of(roles, role);
}
std::optional<Role> find_role(std::string_view id) {
    return find_word(roles, id);
}

std::string_view date_source_id(DateSource source) {
    return word_of(date_sources, source);
}
std::optional<DateSource> find_date_source(std::string_view id) {
    return find_word(date_sources, id);
}

std::string_view speed_source_id(SpeedSource source) {
    return word_of(speed_sources, source);
}
std::optional<SpeedSource> find_speed_source(std::string_view id) {
    return find_word(speed_sources, id);
}

std::string_view correction_kind_id(CorrectionKind kind) {
    return word_of(correction_kinds, kind);
}
std::optional<CorrectionKind> find_correction_kind(std::string_view id) {
    return find_word(correction_kinds, id);
}

std::string_view pin_kind_id(PinKind kind) {
    return word_of(pin_kinds, kind);
}
std::optional<PinKind> find_pin_kind(std::string_view id) {
    return find_word(pin_kinds, id);
}

}  // namespace quarterturn::journal
