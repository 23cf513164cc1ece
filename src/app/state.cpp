#include "app/state.hpp"

#include <cmath>

namespace quarterturn::app {

double OpenClip::seconds_of(std::int64_t pts) const {
    if (!index || index->pictures.empty()) return 0;
    return seconds_between(index->pictures.front().pts, pts, index->time_base) * time_scale;
}

std::int64_t OpenClip::pts_at(double seconds) const {
    if (!index || index->pictures.empty()) return 0;
    const std::int64_t first = index->pictures.front().pts;
    const std::int64_t tick = nearest_tick(seconds / time_scale, index->time_base, first);
    return index->pictures[index->rank_at(tick).value_or(0)].pts;
}

double OpenClip::duration_s() const {
    return index ? index->duration_s() * time_scale : 0;
}

double OpenClip::aspect() const {
    const int w = info.shown_width();
    const int h = info.shown_height();
    return w > 0 && h > 0 ? static_cast<double>(w) / h : 1;
}

journal::Author ReviewState::author() const {
    journal::Author author;
    author.name = settings.author_name;
    if (author.name.empty() && library) author.name = library->athlete.name;
    author.role = settings.author_is_coach ? journal::Role::coach : journal::Role::athlete;
    return author;
}

void tell(ReviewState& state, std::string text, bool trouble) {
    for (Message& message : state.messages)
        if (message.text == text) {
            message.age_s = 0;
            return;
        }
    state.messages.push_back({state.next_message++, std::move(text), trouble, 0});
    if (state.messages.size() > 4) state.messages.erase(state.messages.begin());
}

}  // namespace quarterturn::app
