#include "share/still_lines.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <numbers>

namespace quarterturn::share {
namespace {

using body::Joint;

constexpr float seen_well = 0.4F;
constexpr double nearest_s = 0.1;

constexpr std::array<std::pair<Joint, Joint>, 14> lines{{{Joint::left_shoulder, Joint::right_shoulder},
                                                         {Joint::left_hip, Joint::right_hip},
                                                         {Joint::left_shoulder, Joint::left_hip},
                                                         {Joint::right_shoulder, Joint::right_hip},
                                                         {Joint::left_shoulder, Joint::left_elbow},
                                                         {Joint::left_elbow, Joint::left_wrist},
                                                         {Joint::right_shoulder, Joint::right_elbow},
                                                         {Joint::right_elbow, Joint::right_wrist},
                                                         {Joint::left_hip, Joint::left_knee},
                                                         {Joint::left_knee, Joint::left_ankle},
                                                         {Joint::right_hip, Joint::right_knee},
                                                         {Joint::right_knee, Joint::right_ankle},
                                                         {Joint::left_ankle, Joint::left_foot_tip},
                                                         {Joint::right_ankle, Joint::right_foot_tip}}};

const body::Body* body_at(const body::LandmarkSeries& series, std::int64_t pts) {
    const body::Body* best = nullptr;
    double least = nearest_s;
    for (const body::LandmarkFrame& frame : series.frames) {
        const double off = std::abs(seconds_between(pts, frame.pts, series.time_base));
        if (!frame.body || off >= least) continue;
        least = off;
        best = &*frame.body;
    }
    return best;
}

/// From a pixel of the film's upright picture to one of the still.
class OnStill {
  public:
    OnStill(const Still& still, const body::LandmarkSeries& series, const journal::Clip& clip)
        : width_(series.width),
          height_(series.height),
          tilt_rad_(clip.tilt_deg.value_or(0) * std::numbers::pi / 180),
          mirrored_(clip.mirrored),
          scale_(static_cast<double>(still.height) / std::max(1, series.height)) {}

    [[nodiscard]] body::Point of(const body::Landmark& mark) const {
        const double x = static_cast<double>(mark.x) - width_ / 2, y = static_cast<double>(mark.y) - height_ / 2;
        const double cosine = std::cos(tilt_rad_), sine = std::sin(tilt_rad_);
        const double across = width_ / 2 + cosine * x - sine * y;
        return {(mirrored_ ? width_ - across : across) * scale_, (height_ / 2 + sine * x + cosine * y) * scale_};
    }

  private:
    double width_, height_, tilt_rad_;
    bool mirrored_;
    double scale_;
};

bool seen(const body::Landmark& mark) {
    return std::min(mark.visibility, mark.presence) >= seen_well;
}

void add_line(Html& html, body::Point from, body::Point to) {
    const std::string x1 = fmt::format("{:.1f}", from.x), y1 = fmt::format("{:.1f}", from.y);
    const std::string x2 = fmt::format("{:.1f}", to.x), y2 = fmt::format("{:.1f}", to.y);
    html.lone("line", {{"x1", x1}, {"y1", y1}, {"x2", x2}, {"y2", y2}});
}

void add_body(Html& html, const body::Body& body, const OnStill& place) {
    html.open("g", {{"class", "limbs"}});
    for (const auto& [from, to] : lines)
        if (seen(body[from]) && seen(body[to])) add_line(html, place.of(body[from]), place.of(body[to]));
    html.close();
}

/// Straight up from between the ankles to the top of the head.
void add_plumb(Html& html, const body::Body& body, const OnStill& place) {
    const auto &left = body[Joint::left_ankle], &right = body[Joint::right_ankle], &nose = body[Joint::nose];
    if (!seen(left) && !seen(right)) return;
    // In profile one ankle hides the other.
    const body::Point l = place.of(seen(left) ? left : right), r = place.of(seen(right) ? right : left);
    const double x = (l.x + r.x) / 2, foot = (l.y + r.y) / 2, head = place.of(nose).y;
    html.open("g", {{"class", "plumb"}});
    add_line(html, {x, head - 0.12 * (foot - head)}, {x, foot + 0.03 * (foot - head)});
    html.close();
}

}  // namespace

Html still_lines(const Still& still, std::int64_t pts, const body::LandmarkSeries& series, const journal::Clip& clip) {
    Html html;
    const body::Body* body = body_at(series, pts);
    if (body == nullptr) return html;
    const OnStill place{still, series, clip};
    html.open("svg", {{"class", "over"},
                      {"viewBox", fmt::format("0 0 {} {}", still.width, still.height)},
                      {"role", "img"},
                      {"aria-label", "The body's lines as measured, and a plumb line from between the ankles"}});
    add_plumb(html, *body, place);
    add_body(html, *body, place);
    return html.close();
}

}  // namespace quarterturn::share
