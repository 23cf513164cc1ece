#include "app/views/look.hpp"

namespace quarterturn::app::views {

void draw_everything(const View& view, float width, float height) {
    const ReviewState& state = view.state;
    if (state.place == Place::clip && state.clip) {
        const ClipLayout layout = clip_layout(width, height, view.scale, state.desk.full_screen);
        if (layout.bar) draw_bar(view, *layout.bar);
        if (layout.tools) draw_tools(view, *layout.tools);
        draw_stage(view, layout.stage);
        draw_transport(view, layout.transport);
        if (layout.cards) draw_cards(view, *layout.cards);
        draw_ribbon(view, layout.ribbon);
        if (layout.strip) draw_strip(view, *layout.strip);
        draw_messages(view, layout.messages);
        return;
    }
    if (state.place == Place::pair && state.library) {
        const PairLayout layout = pair_layout(width, height, view.scale, state.desk.full_screen);
        if (layout.bar) draw_bar(view, *layout.bar);
        if (layout.tools) draw_pair_tools(view, *layout.tools);
        draw_pair_stage(view, layout.stage);
        draw_pair_transport(view, layout.transport);
        if (layout.table) draw_pair_table(view, *layout.table);
        draw_pair_ribbon(view, layout.ribbon);
        draw_messages(view, layout.messages);
        return;
    }
    const PageLayout layout = page_layout(width, height, view.scale);
    draw_bar(view, layout.bar);
    switch (state.place) {
        case Place::library:
            if (state.library) {
                draw_library(view, layout.page);
                break;
            }
            [[fallthrough]];
        case Place::start:
        case Place::clip:
        case Place::pair:
            draw_start(view, layout.page);
            break;
        case Place::keys:
            draw_keys(view, layout.page);
            break;
        case Place::settings:
            draw_settings(view, layout.page);
            break;
    }
    draw_messages(view, layout.messages);
}

}  // namespace quarterturn::app::views
