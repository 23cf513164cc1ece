#include "cli/segment_table.hpp"

#include <fmt/format.h>

#include "cli/table.hpp"

namespace quarterturn::cli {
namespace {

std::string_view kind_name(posing::SegmentKind kind) {
    switch (kind) {
        case posing::SegmentKind::hold:
            return "hold";
        case posing::SegmentKind::transition:
            return "transition";
        case posing::SegmentKind::walk:
            return "walk";
        case posing::SegmentKind::pause:
            return "pause";
    }
    return "";
}

std::string number(const posing::Measured& measured, const char* format) {
    return measured.value ? fmt::format(fmt::runtime(format), *measured.value) : "-";
}

std::string pose_of(const posing::Segment& segment) {
    if (segment.kind != posing::SegmentKind::hold) return "";
    if (!segment.pose) return "not recognised";
    const char* how = segment.pose_source == posing::PoseSource::order ? ", by order" : "";
    return fmt::format("{} ({:.0f} %{})", *segment.pose, segment.pose_confidence * 100, how);
}

std::vector<std::string> row_of(const posing::Segment& segment) {
    const bool hold = segment.kind == posing::SegmentKind::hold;
    const bool turn = segment.kind == posing::SegmentKind::transition;
    return {std::string{kind_name(segment.kind)},
            fmt::format("{:.2f}", segment.start_s),
            fmt::format("{:.2f}", segment.duration_s()),
            pose_of(segment),
            hold ? number(segment.facing_deg, "{:.0f}") : "",
            hold ? number(segment.sway.rms, "{:.2f}") : "",
            hold ? number(segment.twist.range, "{:.1f}") : "",
            turn ? number(segment.turn_deg, "{:.0f}") : "",
            hold            ? ""
            : segment.steps ? std::to_string(*segment.steps)
                            : ""};
}

}  // namespace

std::string segment_table(const posing::Analysis& analysis) {
    const std::string sway = analysis.height_cm ? "sway cm" : "sway %";
    Table table{{"what", "from s", "for s", "pose", "facing", sway, "twist deg", "turn deg", "steps"},
                {},
                {false, true, true, false, true, true, true, true, true}};
    for (const auto& segment : analysis.segments) table.rows.push_back(row_of(segment));
    const std::string rows =
        table.rows.empty() ? "No hold was found: nobody stands still in it for long enough.\n" : format_table(table);
    return fmt::format("{}: {:.1f} s, {} pictures of {} x {}, method {}\n\n{}", analysis.clip.file,
                       analysis.clip.duration_s, analysis.clip.frames, analysis.clip.width, analysis.clip.height,
                       analysis.method == posing::Method::landmarks ? "landmarks" : "motion", rows);
}

}  // namespace quarterturn::cli
