#include "app/apply.hpp"

namespace quarterturn::app {

Status apply_looking(ReviewState& state, const Command& command) {
    Desk& desk = state.desk;
    if (const auto* c = std::get_if<SetZooming>(&command)) desk.zooming = c->zooming;
    if (const auto* c = std::get_if<SetRibbon>(&command)) desk.ribbon = c->span;
    if (const auto* c = std::get_if<SetOverlays>(&command)) desk.overlays = c->overlays;
    if (const auto* c = std::get_if<ShowMeasured>(&command)) desk.show_measured = c->on;
    if (const auto* c = std::get_if<SetFullScreen>(&command)) {
        desk.full_screen = c->on;
        state.requests.push_back(Request::FullScreen{c->on});
    }
    return ok();
}

}  // namespace quarterturn::app
