#include "app/cards.hpp"

#include <algorithm>

#include "app/words.hpp"
#include "rules/measured_mark.hpp"
#include "rules/pose.hpp"

namespace quarterturn::app {
namespace {

double seconds_of(const OpenClip& clip, const journal::SegmentSpan& span) {
    return clip.seconds_of(span.range.end) - clip.seconds_of(span.range.start);
}

const posing::Segment* measured_of(const OpenClip& clip, const journal::SegmentSpan& span) {
    if (!clip.measured || !span.measured || *span.measured >= clip.measured->segments.size()) return nullptr;
    return &clip.measured->segments[*span.measured];
}

void add_holds(const OpenClip& clip, Card& card) {
    for (std::size_t i = 0; i < clip.spans.size(); ++i) {
        const auto& span = clip.spans[i];
        if (!span.is_hold || span.pose.value_or("") != card.pose) continue;
        card.spans.push_back(i);
        const double length = seconds_of(clip, span);
        if (card.hold_s && *card.hold_s >= length) continue;
        card.hold_s = length;
        card.best = i;
    }
    if (!card.best) return;
    const auto& span = clip.spans[*card.best];
    const auto* measured = measured_of(clip, span);
    const bool inside =
        measured != nullptr && measured->steadiest_pts >= span.range.start && measured->steadiest_pts < span.range.end;
    card.still_pts = inside ? measured->steadiest_pts : span.range.start + (span.range.end - span.range.start) / 2;
}

Card card_for(const ReviewState& state, const std::string& pose, int number) {
    const OpenClip& clip = *state.clip;
    Card card;
    card.pose = pose;
    card.number = number;
    card.title = pose.empty() ? "Other holds" : pose_title(state, pose);
    card.expected = clip.rules ? clip.rules->find_pose(pose) : nullptr;
    if (const rules::Pose* known = rules::find_pose(pose)) card.facing_deg = known->facing_deg;
    if (card.expected != nullptr) card.target_s = card.expected->target_hold_s;
    add_holds(clip, card);
    if (!state.library) return card;
    if (const auto* session = state.library->find_session(clip.session))
        if (const auto* season = state.library->find_season(session->season))
            if (const auto goal = season->target_hold_s.find(pose); goal != season->target_hold_s.end())
                card.target_s = goal->second;
    for (const auto& note : state.library->notes)
        if (note.clip == clip.fingerprint && !note.done && note.pose.value_or("") == pose) ++card.to_do;
    return card;
}

// What measuring says, as marks: they count until a person gives her own.
std::vector<journal::Mark> program_marks(const ReviewState& state, const Card& card) {
    std::vector<journal::Mark> marks;
    for (const ChecklistLine& line : checklist_of(state, card)) {
        if (!line.program) continue;
        journal::Mark mark;
        mark.session = state.clip->session;
        mark.pose = card.pose;
        mark.item = line.item->id;
        mark.author.role = journal::Role::program;
        mark.value = line.program;
        marks.push_back(std::move(mark));
    }
    return marks;
}

void add_scores(const ReviewState& state, Card& card) {
    if (card.expected == nullptr) return;
    std::vector<journal::Mark> marks = program_marks(state, card);
    if (state.library)
        for (const journal::Mark& mark : state.library->marks)
            if (mark.session == state.clip->session && mark.pose == card.pose &&
                mark.author.role != journal::Role::program) {
                card.coach_marked = card.coach_marked || (mark.author.role == journal::Role::coach && mark.value);
                marks.push_back(mark);
            }
    card.own = journal::pose_score(*card.expected, marks, state.clip->session, journal::Role::athlete);
    card.coach = journal::pose_score(*card.expected, marks, state.clip->session, journal::Role::coach);
}

}  // namespace

std::vector<Card> cards_of(const ReviewState& state) {
    std::vector<Card> cards;
    if (!state.clip) return cards;
    const auto known = [&](const std::string& pose) {
        return std::any_of(cards.begin(), cards.end(), [&](const Card& card) { return card.pose == pose; });
    };
    if (state.clip->rules) {
        int number = 0;
        for (const auto* expected : state.clip->rules->called())
            cards.push_back(card_for(state, expected->pose, ++number));
    }
    for (const auto& span : state.clip->spans)
        if (span.is_hold && span.pose && !known(*span.pose)) cards.push_back(card_for(state, *span.pose, 0));
    Card rest = card_for(state, "", 0);
    const bool notes =
        state.library && std::any_of(state.library->notes.begin(), state.library->notes.end(), [&](const auto& note) {
            return note.clip == state.clip->fingerprint && !note.pose;
        });
    if (rest.best || notes || state.draft) cards.push_back(std::move(rest));
    for (Card& card : cards) add_scores(state, card);
    return cards;
}

std::vector<ChecklistLine> checklist_of(const ReviewState& state, const Card& card) {
    std::vector<ChecklistLine> lines;
    if (card.expected == nullptr) return lines;
    const posing::Segment* segment = card.best ? measured_of(*state.clip, state.clip->spans[*card.best]) : nullptr;
    for (const rules::ChecklistItem& item : card.expected->items) {
        ChecklistLine line;
        line.item = &item;
        if (segment != nullptr) {
            const auto found = std::find_if(segment->checks.begin(), segment->checks.end(),
                                            [&](const posing::Check& check) { return check.item == item.id; });
            if (found != segment->checks.end()) line.measured = &*found;
        }
        const auto limit = rules::limit_of(*card.expected, item);
        if (line.measured != nullptr && line.measured->value.value && limit)
            line.program = rules::mark_for(*line.measured->value.value, *limit);
        if (state.library) {
            const auto mark = [&](journal::Role role) -> std::optional<int> {
                const auto* found =
                    journal::mark_that_holds(state.library->marks, state.clip->session, card.pose, item.id, role);
                return found != nullptr && found->author.role == role ? found->value : std::nullopt;
            };
            line.own = mark(journal::Role::athlete);
            line.coach = mark(journal::Role::coach);
        }
        lines.push_back(line);
    }
    return lines;
}

std::string pose_title(const ReviewState& state, const std::optional<std::string>& pose) {
    if (!pose || pose->empty()) return "No known pose";
    if (state.clip && state.clip->rules)
        if (const auto* expected = state.clip->rules->find_pose(*pose); expected != nullptr && !expected->title.empty())
            return expected->title;
    if (const rules::Pose* known = rules::find_pose(*pose)) return std::string(known->title);
    return id_as_words(*pose);
}

}  // namespace quarterturn::app
