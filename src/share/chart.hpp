#pragma once
/// Line charts as SVG: readable at phone width, colours from the page's style sheet, series told apart by the shape of
/// their marks too. A chart says what it shows in words for people who do not see it.
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "share/html.hpp"

namespace quarterturn::share {

struct ChartPoint {
    double x = 0;
    std::optional<double> y;  ///< absent: the line has a gap there
    std::string words;        ///< shown when the pointer rests on the mark; may be empty
};

struct ChartSeries {
    std::string name;
    int style = 0;  ///< 0..3: colour and shape (circle, square, triangle, diamond)
    std::vector<ChartPoint> points;
    bool marks = true;  ///< a mark at each point; off for dense curves
};

struct ChartAxis {
    std::string title;
    double from = 0, to = 1;  ///< left to right, bottom to top; `from` may be the larger one
    std::vector<std::pair<double, std::string>> ticks;
};

struct Chart {
    std::string words;  ///< what the chart shows, one or two sentences
    ChartAxis x, y;
    std::vector<ChartSeries> series;
    std::optional<double> goal;  ///< a dashed level line
    std::string goal_words;      ///< beside it
    int width = 360, height = 210;
};

/// An <svg> element of the chart's width (it shrinks and grows with the page).
[[nodiscard]] Html draw(const Chart& chart);

/// Names of the series beside their marks.
[[nodiscard]] Html legend(const std::vector<ChartSeries>& series);

/// A vertical axis from 0 to a round number not below `largest`, with round steps.
[[nodiscard]] ChartAxis axis_from_zero(std::string title, double largest);
/// A vertical axis with round ends around both values, with round steps.
[[nodiscard]] ChartAxis axis_around(std::string title, double least, double largest);
/// Weeks out, running down to the show at the right end: from the earliest session's week to 0, or beyond the show
/// where there are later sessions. Values are days to the show.
[[nodiscard]] ChartAxis weeks_out_axis(const std::vector<int>& days_out);

/// A round step (1, 2 or 5 times a power of ten) that divides `span` > 0 into about `steps` parts, at least half and at
/// most twice as many.
[[nodiscard]] double round_step(double span, int steps);

}  // namespace quarterturn::share
