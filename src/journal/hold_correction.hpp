#pragma once
/// What a person changed about the measured segments of a clip. The measured ones stay in the analysis; corrections are
/// laid over them (corrected_segments.hpp).
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/media_time.hpp"
#include "journal/record.hpp"

namespace quarterturn::journal {

enum class CorrectionKind { relabelled, bounds, split, joined, added, removed };
[[nodiscard]] std::string_view correction_kind_id(CorrectionKind kind);
[[nodiscard]] std::optional<CorrectionKind> find_correction_kind(std::string_view id);

struct PtsRange {
    std::int64_t start = 0, end = 0;  ///< end > start
    bool operator==(const PtsRange&) const = default;
};

struct HoldCorrection : Record {
    std::string clip;  ///< fingerprint
    TimeBase base;     ///< of every pts here
    CorrectionKind kind = CorrectionKind::relabelled;
    /// The hold it is about, with its bounds when it was corrected; absent for `added`. It is found again as the hold
    /// that shares most time with this range, so a newer analysis may move its bounds a little.
    std::optional<PtsRange> about;
    /// bounds and added: the new bounds. joined: the second hold. Else absent.
    std::optional<PtsRange> range;
    std::optional<std::int64_t> at;  ///< split: the first picture of the second part
    /// relabelled and added: the pose; absent: a hold that is no known pose. split: the pose of the second part;
    /// absent: the same as before.
    std::optional<std::string> pose;
    bool operator==(const HoldCorrection&) const = default;
};

}  // namespace quarterturn::journal
