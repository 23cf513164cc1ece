#include <algorithm>

#include "app/apply.hpp"
#include "app/cards.hpp"

namespace quarterturn::app {
namespace {

Status open(ReviewState& state, const std::optional<std::string>& pose) {
    state.desk.card = pose;
    state.desk.item = 0;
    if (!pose) return ok();
    for (const Card& card : cards_of(state))
        if (card.pose == *pose && card.best) {
            state.desk.span = card.best;
            go_to(state, state.clip->spans[*card.best].range.start);
        }
    return ok();
}

Status mark(ReviewState& state, const SetMark& command) {
    if (!state.library || !state.clip->in_library)
        return Error{ErrorCode::unsupported,
                     "This clip is not in a library, so marks cannot be kept. Add it to one first."};
    journal::Mark made;
    made.session = state.clip->session;
    made.pose = command.pose;
    made.item = command.item;
    made.author = state.author();
    made.value = command.value;
    made.clip = state.clip->fingerprint;
    std::optional<journal::Mark> before;
    for (const journal::Mark& mark : state.library->marks)
        if (mark.session == made.session && mark.pose == made.pose && mark.item == made.item &&
            mark.author == made.author)
            before = mark;
    if (before && before->value == made.value) made.value.reset();  // the same mark again takes it back
    if (before) {
        made.edits = before->edits;
        made.extras = before->extras;
        made.measured = before->measured;
        made.unit = before->unit;
    }
    make_edit(state, {"Mark the checklist", {EntryChange<journal::Mark>{before, std::move(made)}}});
    return ok();
}

}  // namespace

Status apply_card(ReviewState& state, const Command& command) {
    if (const auto* c = std::get_if<OpenCard>(&command)) return open(state, c->pose);
    if (const auto* c = std::get_if<TurnCard>(&command)) state.desk.card_shows_checklist = c->checklist;
    if (const auto* c = std::get_if<ChooseItem>(&command)) state.desk.item = c->item;
    if (const auto* c = std::get_if<SetMark>(&command)) return mark(state, *c);
    return ok();
}

}  // namespace quarterturn::app
