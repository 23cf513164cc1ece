#include "compare/pairing.hpp"

#include <algorithm>
#include <set>

namespace quarterturn::compare {
namespace {

class Pairer {
  public:
    Pairer(const Takes& now, const Takes& before) : now_(now), before_(before) {}

    Pairing pair(const Pins& pins) {
        pin(pins.pairs);
        pair_open(true);
        pair_open(false);
        std::sort(out_.pairs.begin(), out_.pairs.end(), [](const Pair& a, const Pair& b) { return a.now < b.now; });
        for (Pair& pair : out_.pairs) choose_stills(pair, pins.moments);
        note_unpaired();
        return std::move(out_);
    }

  private:
    static std::vector<HoldPlace> holds_of(const Takes& takes) {
        std::vector<HoldPlace> holds;
        for (std::size_t t = 0; t < takes.size(); ++t)
            for (std::size_t s = 0; s < takes[t].analysis->segments.size(); ++s)
                if (takes[t].analysis->segments[s].kind == posing::SegmentKind::hold) holds.push_back({t, s});
        return holds;
    }
    static bool is_hold(const Takes& takes, const HoldPlace& place) {
        return place.take < takes.size() && place.segment < takes[place.take].analysis->segments.size() &&
               hold_at(takes, place).kind == posing::SegmentKind::hold;
    }

    void add(const HoldPlace& now, const HoldPlace& before, bool by_person) {
        const posing::Segment &a = hold_at(now_, now), &b = hold_at(before_, before);
        Pair pair;
        pair.pose = a.pose ? *a.pose : b.pose.value_or("");
        pair.now = now;
        pair.before = before;
        pair.by_person = by_person;
        pair.other_side = a.side && b.side && *a.side != *b.side;
        out_.pairs.push_back(pair);
        taken_now_.insert(now);
        taken_before_.insert(before);
    }

    /// Later pins win over earlier ones about the same hold, so they are gone through backwards.
    void pin(const std::vector<PairPin>& pins) {
        for (auto p = pins.rbegin(); p != pins.rend(); ++p) {
            if ((p->now && (!is_hold(now_, *p->now) || taken_now_.contains(*p->now))) ||
                (p->before && (!is_hold(before_, *p->before) || taken_before_.contains(*p->before))))
                continue;
            if (p->now && p->before)
                add(*p->now, *p->before, true);
            else if (p->now)
                taken_now_.insert(*p->now), alone_now_.insert(*p->now);
            else if (p->before)
                taken_before_.insert(*p->before), alone_before_.insert(*p->before);
        }
    }

    static bool same_pose(const posing::Segment& a, const posing::Segment& b, bool same_side) {
        return a.pose && a.pose == b.pose && (!same_side || a.side == b.side);
    }

    void pair_open(bool same_side) {
        const auto before = holds_of(before_);
        for (const HoldPlace& place : holds_of(now_)) {
            if (taken_now_.contains(place)) continue;
            const auto match = std::find_if(before.begin(), before.end(), [&](const HoldPlace& other) {
                return !taken_before_.contains(other) &&
                       same_pose(hold_at(now_, place), hold_at(before_, other), same_side);
            });
            if (match != before.end()) add(place, *match, false);
        }
    }

    static std::int64_t steadiest(const posing::Segment& hold) {
        const bool inside = hold.steadiest_pts >= hold.start_pts && hold.steadiest_pts <= hold.end_pts;
        return inside ? hold.steadiest_pts : hold.start_pts + (hold.end_pts - hold.start_pts) / 2;
    }

    void choose_stills(Pair& pair, const std::vector<MomentPin>& moments) const {
        const posing::Segment &a = hold_at(now_, pair.now), &b = hold_at(before_, pair.before);
        const auto &now_clip = now_[pair.now.take].analysis->clip,
                   &before_clip = before_[pair.before.take].analysis->clip;
        pair.now_still_pts = steadiest(a);
        pair.before_still_pts = steadiest(b);
        for (const MomentPin& pin : moments) {
            if (pin.now_take != pair.now.take || pin.before_take != pair.before.take) continue;
            if (pin.now_s < a.start_s || pin.now_s > a.end_s || pin.before_s < b.start_s || pin.before_s > b.end_s)
                continue;
            pair.now_still_pts = pts_of(now_clip, pin.now_s);
            pair.before_still_pts = pts_of(before_clip, pin.before_s);
        }
        pair.now_still_s = seconds_of(now_clip, pair.now_still_pts);
        pair.before_still_s = seconds_of(before_clip, pair.before_still_pts);
    }

    void note_unpaired() {
        const auto note = [this](const Takes& takes, bool is_now, const std::set<HoldPlace>& taken,
                                 const std::set<HoldPlace>& alone) {
            for (const HoldPlace& place : holds_of(takes))
                if (!taken.contains(place) || alone.contains(place))
                    out_.unpaired.push_back({is_now, place, hold_at(takes, place).pose});
        };
        note(now_, true, taken_now_, alone_now_);
        note(before_, false, taken_before_, alone_before_);
    }

    const Takes& now_;
    const Takes& before_;
    std::set<HoldPlace> taken_now_, taken_before_, alone_now_, alone_before_;
    Pairing out_;
};

}  // namespace

Pairing pair_holds(const Takes& now, const Takes& before, const Pins& pins) {
    return Pairer(now, before).pair(pins);
}

}  // namespace quarterturn::compare
