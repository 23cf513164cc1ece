#pragma once
/// What a person says belongs together in two films that are compared: two holds, or two moments; or that a hold has no
/// counterpart. Laid over what the program pairs by itself.
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/media_time.hpp"
#include "journal/hold_correction.hpp"
#include "journal/record.hpp"

namespace quarterturn::journal {

enum class PinKind {
    holds,    ///< two holds belong together
    moments,  ///< two moments belong together
    alone     ///< a hold has no counterpart in the other film
};
[[nodiscard]] std::string_view pin_kind_id(PinKind kind);
[[nodiscard]] std::optional<PinKind> find_pin_kind(std::string_view id);

struct PinPlace {
    std::string clip;              ///< fingerprint
    TimeBase base;                 ///< of every pts here
    std::optional<PtsRange> hold;  ///< with its bounds when it was pinned; found again as a HoldCorrection's
    std::optional<std::int64_t> at;
    bool operator==(const PinPlace&) const = default;
};

/// holds: both places have a hold. moments: both have `at`. alone: exactly one place has a hold.
struct Pin : Record {
    PinKind kind = PinKind::holds;
    PinPlace now, before;  ///< the later and the earlier film; never the same
    bool operator==(const Pin&) const = default;
};

}  // namespace quarterturn::journal
