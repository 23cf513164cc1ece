#include "share/chart.hpp"

#include <fmt/format.h>

namespace quarterturn::share {
namespace {

constexpr double left = 36, right = 16, top = 28, bottom = 38;

std::string number(double value) {
    return fmt::format("{:.1f}", value);
}

class Plane {
  public:
    explicit Plane(const Chart& chart) : chart_(chart) {}
    [[nodiscard]] double width() const { return chart_.width - left - right; }
    [[nodiscard]] double height() const { return chart_.height - top - bottom; }
    [[nodiscard]] double x(double value) const {
        return left + width() * (value - chart_.x.from) / (chart_.x.to - chart_.x.from);
    }
    [[nodiscard]] double y(double value) const {
        return top + height() * (1 - (value - chart_.y.from) / (chart_.y.to - chart_.y.from));
    }

  private:
    const Chart& chart_;
};

/// A mark of about 9 units across around (0, 0), by style.
void add_mark(Html& svg, int style, double x, double y, const std::string& words) {
    const std::string place = fmt::format("translate({:.1f} {:.1f})", x, y);
    svg.open("g", {{"class", fmt::format("s{}", style)}, {"transform", place}});
    if (!words.empty()) svg.element("title", words);
    switch (style) {
        case 0:
            svg.lone("circle", {{"r", "4.5"}});
            break;
        case 1:
            svg.lone("rect", {{"x", "-4.2"}, {"y", "-4.2"}, {"width", "8.4"}, {"height", "8.4"}});
            break;
        case 2:
            svg.lone("path", {{"d", "M0-5.2 5 4H-5Z"}});
            break;
        default:
            svg.lone("path", {{"d", "M0-5.6 5 0 0 5.6-5 0Z"}});
    }
    svg.close();
}

void add_axes(Html& svg, const Chart& chart, const Plane& plane) {
    const std::string base = number(top + plane.height()), end = number(left + plane.width());
    for (const auto& [value, label] : chart.y.ticks) {
        const std::string y = number(plane.y(value));
        svg.lone("line", {{"class", "grid"}, {"x1", number(left)}, {"x2", end}, {"y1", y}, {"y2", y}});
        svg.element("text", label,
                    {{"x", number(left - 7)}, {"y", number(plane.y(value) + 4.2)}, {"text-anchor", "end"}});
    }
    svg.lone("line", {{"class", "axis"}, {"x1", number(left)}, {"x2", end}, {"y1", base}, {"y2", base}});
    for (const auto& [value, label] : chart.x.ticks) {
        const std::string x = number(plane.x(value));
        svg.lone("line",
                 {{"class", "axis"}, {"x1", x}, {"x2", x}, {"y1", base}, {"y2", number(top + plane.height() + 4)}});
        svg.element("text", label, {{"x", x}, {"y", number(top + plane.height() + 17)}, {"text-anchor", "middle"}});
    }
    svg.element("text", chart.x.title,
                {{"class", "title"}, {"x", end}, {"y", number(chart.height - 6)}, {"text-anchor", "end"}});
    svg.element("text", chart.y.title, {{"class", "title"}, {"x", "2"}, {"y", "12"}});
}

void add_goal(Html& svg, const Chart& chart, const Plane& plane) {
    if (!chart.goal) return;
    const double y = plane.y(*chart.goal);
    svg.lone("line", {{"class", "goal"},
                      {"x1", number(left)},
                      {"x2", number(left + plane.width())},
                      {"y1", number(y)},
                      {"y2", number(y)}});
    const double text_y = y - top > 14 ? y - 5 : y + 14;
    svg.element("text", chart.goal_words, {{"class", "halo"}, {"x", number(left + 4)}, {"y", number(text_y)}});
}

/// The line's path, lifted where a value is absent.
std::string path_of(const ChartSeries& series, const Plane& plane) {
    std::string path;
    bool down = false;
    for (const ChartPoint& point : series.points) {
        if (point.y) path += fmt::format("{}{:.1f} {:.1f}", down ? "L" : "M", plane.x(point.x), plane.y(*point.y));
        down = point.y.has_value();
    }
    return path;
}

void add_series(Html& svg, const ChartSeries& series, const Plane& plane) {
    const std::string path = path_of(series, plane);
    if (!path.empty()) svg.lone("path", {{"class", fmt::format("line s{}", series.style)}, {"d", path}});
    if (!series.marks) return;
    for (const ChartPoint& point : series.points) {
        if (point.y) add_mark(svg, series.style, plane.x(point.x), plane.y(*point.y), point.words);
    }
}

}  // namespace

Html draw(const Chart& chart) {
    const Plane plane{chart};
    Html svg;
    svg.open("svg", {{"class", "chart"},
                     {"role", "img"},
                     {"aria-label", chart.words},
                     {"viewBox", fmt::format("0 0 {} {}", chart.width, chart.height)},
                     {"width", fmt::format("{}", chart.width)},
                     {"height", fmt::format("{}", chart.height)}});
    add_axes(svg, chart, plane);
    add_goal(svg, chart, plane);
    for (const ChartSeries& series : chart.series) add_series(svg, series, plane);
    svg.close();
    return svg;
}

Html legend(const std::vector<ChartSeries>& series) {
    Html list;
    list.open("ul", {{"class", "legend"}});
    for (const ChartSeries& one : series) {
        list.open("li").open("svg", {{"class", "chart key"}, {"aria-hidden", "true"}, {"viewBox", "-14 -7 28 14"}});
        list.lone("path", {{"class", fmt::format("line s{}", one.style)}, {"d", "M-13 0H13"}});
        add_mark(list, one.style, 0, 0, "");
        list.close().text(one.name).close();
    }
    list.close();
    return list;
}

}  // namespace quarterturn::share
