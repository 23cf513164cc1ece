/// Draws the pictures of docs/measurement.md from a demo film, with the report's own charts and lines.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numbers>

#include "base/file.hpp"
#include "share/chart.hpp"
#include "share/film_stills.hpp"
#include "share/measure.hpp"
#include "share/still_lines.hpp"
#include "share/turn_dial.hpp"

using namespace quarterturn;
using share::Html;

namespace {

const std::filesystem::path source = QUARTERTURN_SOURCE_DIR;

/// A picture stands alone, so it carries the few styles it needs; white paper, as most pages have.
constexpr const char* style = R"(
text{font:13px sans-serif;fill:#333}.title{fill:#111}.grid{stroke:#ddd}.axis{stroke:#888}
.line{fill:none;stroke-width:2}.line.s0{stroke:#0072b2}.line.s2{stroke:#00704f}.line.s3{stroke:#a3477f}
.goal{stroke:#111;stroke-width:1.5;stroke-dasharray:6 4}.halo{fill:#111}
.ring{fill:none;stroke:#888}.judges{fill:none;stroke:#0072b2;stroke-width:2.6}.body{fill:#111}
.limbs line{stroke:#fff;stroke-width:2.2;stroke-linecap:round}.plumb line{stroke:#ffd34d;stroke-width:2;stroke-dasharray:7 5}
.hold{fill:#00704f;fill-opacity:.14}.section{fill:#d9c2ad;stroke:#333}.before{fill:none;stroke:#888;stroke-dasharray:4 3}
.arrow{fill:none;stroke:#a3477f;stroke-width:2}.edge{stroke:#0072b2;stroke-dasharray:2 3}
)";

[[noreturn]] void give_up(const Error& error) {
    fmt::print(stderr, "{}\n", error.detail);
    std::exit(1);
}

void save(const char* name, int width, int height, const std::string& inside) {
    const std::string text = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" width=\"{0}\" "
        "height=\"{1}\"><style>{2}</style>"
        "<rect width=\"{0}\" height=\"{1}\" fill=\"#fff\"/>{3}</svg>\n",
        width, height, style, inside);
    const auto path = source / "docs/pictures" / fmt::format("measurement_{}.svg", name);
    if (const Status written = write_file(path, text); !written) give_up(written.error());
    fmt::print("{}: {} KB\n", path.filename().string(), (text.size() + 512) / 1024);
}

std::string words(double x, double y, std::string_view text, const char* anchor = "start") {
    return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>", x, y, anchor,
                       share::escaped(text));
}

/// A film of the demo, measured, with its landmarks.
struct Film {
    journal::Clip clip;
    posing::Analysis analysis;
    body::LandmarkSeries series;
};

Film measured(const char* name) {
    const auto path = source / "sample_clips" / name;
    share::FilmKnowledge knowledge;
    knowledge.height_cm = 171;
    auto analysis = share::measure_film(path, knowledge, {});
    if (!analysis) give_up(analysis.error());
    auto series = share::film_landmarks(path, knowledge, {});
    if (!series) give_up(series.error());
    Film film{{}, std::move(*analysis), std::move(*series)};
    film.clip.id = film.analysis.clip.fingerprint;
    film.clip.path = path.string();
    return film;
}

const posing::Segment& hold_of(const Film& film, std::string_view pose) {
    for (const auto& segment : film.analysis.segments)
        if (segment.kind == posing::SegmentKind::hold && segment.pose == pose) return segment;
    give_up({ErrorCode::not_found, fmt::format("The film shows no {}.", pose)});
}

void draw_landmarks(const Film& film) {
    share::FilmStills stills{[](const journal::Clip& clip) -> Result<std::filesystem::path> { return {clip.path}; },
                             460};
    std::string inside;
    double x = 0;
    for (const char* pose : {"quarter_front", "quarter_left_side", "quarter_back"}) {
        const posing::Segment& hold = hold_of(film, pose);
        const auto still = stills.at(film.clip, hold.steadiest_pts);
        if (!still) give_up(still.error());
        const std::string lines = share::still_lines(*still, hold.steadiest_pts, film.series, film.clip).markup();
        inside += fmt::format(
            "<g transform=\"translate({0} 0)\"><image width=\"{1}\" height=\"{2}\" href=\"{3}\"/>"
            "<svg width=\"{1}\" height=\"{2}\">{4}</svg></g>",
            x, still->width, still->height, still->data_uri, lines);
        x += still->width + 6;
    }
    save("landmarks", static_cast<int>(x) - 6, 460, inside);
}

std::string chart_of(const Film& film, const std::vector<std::optional<double>>& curve, double from_s, double to_s,
                     const char* title, int series_style) {
    share::Chart chart;
    double least = 0, most = 0;
    std::vector<share::ChartPoint> points;
    const auto& signals = film.analysis.signals;
    for (std::size_t i = 0; i < signals.t_s.size() && i < curve.size(); ++i) {
        if (signals.t_s[i] < from_s || signals.t_s[i] > to_s) continue;
        points.push_back({signals.t_s[i] - from_s, curve[i], {}});
        least = std::min(least, curve[i].value_or(least));
        most = std::max(most, curve[i].value_or(most));
    }
    chart.words = title;
    chart.x = share::axis_from_zero("seconds", to_s - from_s);
    chart.x.to = to_s - from_s;
    std::erase_if(chart.x.ticks, [&](const auto& tick) { return tick.first > to_s - from_s; });
    chart.y = share::axis_around(title, least, most);
    chart.series = {{.name = title, .style = series_style, .points = points, .marks = false}};
    chart.width = 640;
    chart.height = 220;
    return share::draw(chart).markup();
}

void draw_curves(const Film& film) {
    const posing::Segment& sway = hold_of(film, "quarter_front");
    const posing::Segment& twist = hold_of(film, "quarter_back");
    save("sway", 640, 240,
         chart_of(film, film.analysis.signals.sway_cm, sway.start_s, sway.end_s, "sway of the hips, cm", 0));
    save("twist", 640, 240,
         chart_of(film, film.analysis.signals.twist_deg, twist.start_s, twist.end_s, "change of twist, degrees", 3));
}

/// The speed of the fastest joint, and below it what was found to be a hold.
void draw_holds(const Film& film) {
    const double from_s = hold_of(film, "quarter_front").start_s - 2.5, to_s = hold_of(film, "quarter_back").end_s + 1;
    std::vector<std::optional<double>> speed = film.analysis.signals.stillness;
    for (auto& value : speed)
        if (value) value = std::min(*value, 0.5);
    std::string inside =
        chart_of(film, speed, from_s, to_s, "speed of the fastest joint, body heights/s (cut at 0.5)", 2);
    inside += words(8, 262, "holds");
    for (const auto& segment : film.analysis.segments) {
        if (segment.kind != posing::SegmentKind::hold || segment.start_s < from_s || segment.end_s > to_s) continue;
        // The chart's own margins: 36 to the left, 16 to the right.
        const auto x = [&](double t_s) { return 36 + (t_s - from_s) / (to_s - from_s) * (640 - 36 - 16); };
        inside += fmt::format("<rect class=\"hold\" x=\"{:.1f}\" y=\"248\" width=\"{:.1f}\" height=\"22\"/>",
                              x(segment.start_s), x(segment.end_s) - x(segment.start_s));
        inside += words((x(segment.start_s) + x(segment.end_s)) / 2, 263, fmt::format("{:.1f} s", segment.duration_s()),
                        "middle");
    }
    save("holds", 640, 280, inside);
}

/// The trunk's section from above, before and after a turn: the near surface moves across, the outline hardly does.
void draw_section() {
    constexpr double a = 168, b = 112, cx = 320, cy = 130, turn = 14;
    std::string inside =
        fmt::format("<ellipse class=\"before\" cx=\"{0}\" cy=\"{1}\" rx=\"{2}\" ry=\"{3}\"/>", cx, cy, a, b);
    inside += fmt::format(
        "<ellipse class=\"section\" fill-opacity=\".6\" cx=\"{0}\" cy=\"{1}\" rx=\"{2}\" ry=\"{3}\" "
        "transform=\"rotate({4} {0} "
        "{1})\"/>",
        cx, cy, a, b, -turn);
    const double psi = turn * std::numbers::pi / 180;
    for (const double across : {-0.55, -0.2, 0.2, 0.55}) {
        const double x = across * a, z = b * std::sqrt(1 - across * across);
        const double x1 = std::cos(psi) * x + std::sin(psi) * z, z1 = -std::sin(psi) * x + std::cos(psi) * z;
        inside += fmt::format(
            "<path class=\"arrow\" d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\"/><circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"4\"/>",
            cx + x, cy + z, cx + x1, cy + z1, cx + x1, cy + z1);
        inside += fmt::format("<path class=\"arrow\" d=\"M{:.1f} 292H{:.1f}\"/>", cx + x, cx + x1);
    }
    for (const double side : {-1.0, 1.0})
        inside += fmt::format("<path class=\"edge\" d=\"M{0:.1f} {1}V300\"/>", cx + side * a, cy);
    inside += words(cx, 318, "what the phone sees: the surface moves by z sin(psi), the outline stays", "middle");
    inside += words(cx, cy, "trunk from above", "middle") + words(cx + a + 12, cy + 4, "outline") +
              words(cx, 274, "to the phone", "middle");
    save("twist_section", 640, 330, inside);
}

void draw_facing() {
    std::string inside;
    const std::pair<double, const char*> dials[] = {
        {0, "0: front"}, {90, "90: left side"}, {180, "180: back"}, {-90, "-90: right side"}};
    double x = 80;
    for (const auto& [facing_deg, text] : dials) {
        inside += fmt::format(
            "<g transform=\"translate({} 70) scale(2.6)\"><svg x=\"-17\" y=\"-17\" width=\"34\" "
            "height=\"34\">{}</svg></g>",
            x, share::turn_dial(facing_deg).markup());
        inside += words(x, 142, text, "middle");
        x += 160;
    }
    inside += words(320, 164, "from above; the judges and the phone are at the blue line", "middle");
    save("facing", 640, 176, inside);
}

}  // namespace

int main() {
    const Film film = measured("more/sway_and_twist.mp4");
    draw_landmarks(film);
    draw_curves(film);
    draw_holds(film);
    draw_section();
    draw_facing();
    return 0;
}
