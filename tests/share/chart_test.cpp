#include "share/chart.hpp"

#include <doctest.h>
#include <rapidcheck.h>

#include <cmath>

using namespace quarterturn::share;

namespace {

std::size_t count(const std::string& text, const std::string& part) {
    std::size_t found = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
    return found;
}

Chart chart_of(std::vector<ChartPoint> points) {
    Chart chart;
    chart.words = "hold times";
    chart.x = weeks_out_axis({84, 70, 28});
    chart.y = axis_from_zero("seconds", 12);
    chart.series = {{.name = "Front", .style = 0, .points = std::move(points)}};
    return chart;
}

}  // namespace

TEST_CASE("weeks out run down to the show at the right end") {
    const ChartAxis axis = weeks_out_axis({84, 70, 28});
    CHECK(axis.from == doctest::Approx(84));
    CHECK(axis.to == doctest::Approx(0));
    CHECK(axis.ticks.front().second == "12");
    CHECK(axis.ticks.back().second == "show");
    for (std::size_t i = 1; i < axis.ticks.size(); ++i) CHECK(axis.ticks[i].first < axis.ticks[i - 1].first);
    CHECK(weeks_out_axis({10, -5}).to == doctest::Approx(-5));  // a session after the show
}

TEST_CASE("an earlier session stands further left") {
    const std::string svg = draw(chart_of({{84, 4, "point one"}, {28, 9, "point two"}})).markup();
    const auto x_of = [&](const char* words) {
        const std::size_t group = svg.rfind("translate(", svg.find(words));
        return std::stod(svg.substr(group + 10));
    };
    CHECK(x_of("point one") < x_of("point two"));
}

TEST_CASE("an absent value is a gap, not a zero") {
    const std::string svg = draw(chart_of({{84, 4, "a"}, {70, {}, "b"}, {28, 9, "c"}})).markup();
    CHECK(count(svg, "<circle") == 2);
    const std::size_t path = svg.find("class=\"line s0\"");
    const std::string line = svg.substr(path, svg.find("/>", path) - path);
    CHECK(count(line, "M") == 2);
    CHECK(count(line, "L") == 0);
}

TEST_CASE("one session only still gives a chart") {
    const std::string svg = draw(chart_of({{84, 4, "a"}})).markup();
    CHECK(count(svg, "<circle") == 1);
    CHECK(svg.find("nan") == std::string::npos);
}

TEST_CASE("each series has its own shape") {
    const std::string marks = legend({{.name = "a", .style = 0, .points = {}},
                                      {.name = "b", .style = 1, .points = {}},
                                      {.name = "c", .style = 2, .points = {}}})
                                  .markup();
    CHECK(count(marks, "<circle") == 1);
    CHECK(count(marks, "<rect") == 1);
    CHECK(count(marks, "<path d=") == 1);
}

TEST_CASE("axes cover the values with round, rising ticks") {
    CHECK(rc::check([] {
        const double least = *rc::gen::inRange(-100000, 100000) / 100.0;
        const double span = *rc::gen::inRange(1, 1000000) / 100.0;
        const ChartAxis axis = axis_around("", least, least + span);
        RC_ASSERT(axis.from <= least + 1e-6);
        RC_ASSERT(axis.to >= least + span - 1e-6);
        RC_ASSERT(axis.ticks.size() >= 2U);
        RC_ASSERT(axis.ticks.size() <= 9U);
        for (std::size_t i = 1; i < axis.ticks.size(); ++i) RC_ASSERT(axis.ticks[i].first > axis.ticks[i - 1].first);
    }));
    CHECK(axis_from_zero("", 0).to == doctest::Approx(1));
    CHECK(axis_from_zero("", 10).to == doctest::Approx(10));
    CHECK(axis_from_zero("", 11.7).ticks.back().second == "12");
}
