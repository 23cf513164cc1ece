#include "share/turn_dial.hpp"

#include <fmt/format.h>

namespace quarterturn::share {
namespace {

/// Shoulders and nose of somebody facing down. With the left side to the judges she faces the picture's left, which is
/// a clockwise turn on the page.
void add_body(Html& svg, double facing_deg, const char* kind) {
    svg.open("g", {{"class", kind}, {"transform", fmt::format("rotate({:.0f})", facing_deg)}});
    svg.lone("ellipse", {{"cx", "0"}, {"cy", "0"}, {"rx", "9"}, {"ry", "3.6"}});
    svg.lone("path", {{"d", "M-3 3.2 0 9.2 3 3.2Z"}});
    svg.close();
}

}  // namespace

Html turn_dial(std::optional<double> facing_deg) {
    Html svg;
    svg.open(
        "svg",
        {{"class", "dial"}, {"aria-hidden", "true"}, {"viewBox", "-17 -17 34 34"}, {"width", "34"}, {"height", "34"}});
    svg.lone("circle", {{"class", "ring"}, {"r", "14"}});
    svg.lone("path", {{"class", "judges"}, {"d", "M-7 15.6H7"}});
    if (facing_deg) {
        add_body(svg, *facing_deg, "body");
    } else {
        add_body(svg, 90, "body free");
        add_body(svg, -90, "body free");
    }
    svg.close();
    return svg;
}

}  // namespace quarterturn::share
