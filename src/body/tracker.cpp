#include "body/tracker.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::body {
namespace {

// A first picture has no step before it; any usual picture distance will do.
constexpr double usual_step_s = 1.0 / 15;
// Somebody who comes back sooner is looked for where she was lost.
constexpr double short_absence_s = 3;
// Held for so long, a place counts as the athlete's own.
constexpr double home_after_s = 1.5;
// The same body seen by two methods differs by less; another body by more.
constexpr double same_person = 0.35;
constexpr double other_person = 0.6;
// A body that seems to have turned further in the picture's plane since the picture before, or against what the
// detector saw, was misread: head and feet changed places. Once held, such a reading would go on feeding itself.
constexpr double most_turn_rad = 1.0;

bool turned_over(const Region& from, const Region& to) {
    return std::abs(angle_between(from.angle_rad, to.angle_rad)) > most_turn_rad;
}

// Two bodies that overlap are seen as one, and he is on his way: look on for so long.
constexpr double company_lasts_s = 1.2;
constexpr double company_within = 0.8;  // sides
constexpr double drawn_along = 0.03;

// Sides per second: nearly two body heights. No foot of somebody who poses or walks is so fast; it is another body's.
constexpr double fastest_foot_per_s = 1.3;

/// Of the feet, pixels.
double furthest_step(const Body& before, const Body& now) {
    double furthest = 0;
    for (const Joint joint : {Joint::left_ankle, Joint::right_ankle}) {
        const double x = static_cast<double>(now[joint].x) - static_cast<double>(before[joint].x);
        const double y = static_cast<double>(now[joint].y) - static_cast<double>(before[joint].y);
        furthest = std::max(furthest, std::hypot(x, y));
    }
    return furthest;
}

/// Anybody but the one in the region.
bool somebody_near(const std::vector<Person>& people, const Region& region) {
    const auto near = std::count_if(people.begin(), people.end(), [&](const Person& person) {
        return std::abs(person.region.centre.x - region.centre.x) < company_within * region.side;
    });
    return near > 1;
}

const Person* nearest_to(const std::vector<Person>& people, const Region& place) {
    const auto nearer = [&](const Person& a, const Person& b) {
        return unlikeness(a.region, place) < unlikeness(b.region, place);
    };
    const auto found = std::min_element(people.begin(), people.end(), nearer);
    return found == people.end() ? nullptr : &*found;
}

}  // namespace

Tracker::Tracker(BodyReader& reader, TrackerSettings settings, std::optional<AthletePath> athlete)
    : reader_(reader), settings_(settings), athlete_(std::move(athlete)), keeper_(settings.keeper) {}

Result<Tracked> Tracker::step(const PictureView& picture, double t_s) {
    Tracked out;
    const double dt_s = last_t_s_ ? t_s - *last_t_s_ : usual_step_s;
    if (following_) {
        const bool held = keeper_.held();
        auto reading = reader_.read(picture, keeper_.region(), settings_.masks && held);
        if (!reading) return reading.error();
        following_ = plausible(*reading, dt_s);
        if (following_) accept(*reading, t_s, dt_s, out);
    }
    // A body lost in this picture is looked for in this picture, so that one bad reading costs nothing.
    const auto status = following_ ? look_around(picture, t_s, out) : start(picture, t_s, out);
    if (!status) return status.error();
    last_t_s_ = t_s;
    return out;
}

bool Tracker::plausible(const Reading& reading, double dt_s) const {
    if (static_cast<double>(reading.confidence) < settings_.lost_below || !reading.next) return false;
    if (turned_over(keeper_.region(), *reading.next)) return false;
    return unlikeness(*reading.next, keeper_.region()) <= 0.25 + settings_.most_shift_per_s * dt_s;
}

void Tracker::accept(const Reading& reading, double t_s, double dt_s, Tracked& out) {
    if (last_body_ && furthest_step(*last_body_, reading.body) > fastest_foot_per_s * dt_s * keeper_.region().side)
        suspected_s_ = t_s;
    last_body_ = reading.body;
    out.body = reading.body;
    out.region = keeper_.region();
    out.confidence = reading.confidence;
    out.held = keeper_.held();
    out.mask = reading.mask;
    keeper_.update(*reading.next, dt_s);
    if (!keeper_.held()) held_since_s_.reset();
    if (keeper_.held() && !held_since_s_) held_since_s_ = t_s;
    if (held_since_s_ && t_s - *held_since_s_ >= home_after_s) home_ = keeper_.region();
    last_seen_s_ = t_s;
}

std::optional<Region> Tracker::expected_at(double t_s) const {
    if (athlete_) {
        if (auto place = athlete_->at(t_s)) return place;
    }
    if (last_seen_s_ && t_s - *last_seen_s_ <= short_absence_s) return keeper_.region();
    return home_;
}

Status Tracker::look(const PictureView& picture, double t_s, Tracked& out) {
    auto people = reader_.find(picture);
    if (!people) return people.error();
    busy_ = people->size() > 1;
    if (following_ && somebody_near(*people, keeper_.region())) suspected_s_ = t_s;
    last_look_s_ = t_s;
    out.sighting = Sighting{t_s, std::move(people).value()};
    return ok();
}

Status Tracker::start(const PictureView& picture, double t_s, Tracked& out) {
    // At once in the picture a body was lost in; in an empty picture looking each time would cost more than reading.
    const bool just_lost = last_seen_s_ && last_t_s_ && *last_seen_s_ == *last_t_s_;
    if (!just_lost && last_look_s_ && t_s - *last_look_s_ < settings_.search_s - 1e-6) return ok();
    if (auto status = look(picture, t_s, out); !status) return status;
    const auto person = choose_person(out.sighting->people, expected_at(t_s), picture.width(), picture.height());
    if (!person) return ok();
    auto first = reader_.read(picture, person->region, false);
    if (!first) return first.error();
    if (static_cast<double>(first->confidence) < settings_.lost_below || !first->next) return ok();
    // The detector's region is coarse: read again where the landmarks say the body is.
    const Region region = turned_over(person->region, *first->next) ? person->region : *first->next;
    auto second = reader_.read(picture, region, false);
    if (!second) return second.error();
    if (static_cast<double>(second->confidence) < settings_.lost_below || !second->next) return ok();
    begin_at(region);
    following_ = true;
    accept(*second, t_s, usual_step_s, out);
    return ok();
}

double Tracker::pause_before_look(double t_s) const {
    if (suspected_s_ && t_s - *suspected_s_ < company_lasts_s) return settings_.company_look_s;
    if (keeper_.in_doubt()) return settings_.doubt_look_s;
    const bool lying = turned_over({}, keeper_.region());  // seldom true of somebody who poses: make sure soon
    return busy_ || lying ? settings_.busy_look_s : settings_.look_around_s;
}

Status Tracker::look_around(const PictureView& picture, double t_s, Tracked& out) {
    if (last_look_s_ && t_s - *last_look_s_ < pause_before_look(t_s) - 1e-6) return ok();
    if (auto status = look(picture, t_s, out); !status) return status;
    const auto& people = out.sighting->people;
    if (const Person* seen = nearest_to(people, keeper_.region()); seen && read_over(seen->region)) {
        begin_at(seen->region);
        return ok();
    }
    const std::optional<Region> place = athlete_ ? athlete_->at(t_s) : home_;
    if (!place || people.size() < 2) return ok();
    if (const Person* there = nearest_to(people, *place); led_off(*place, there->region, t_s)) begin_at(there->region);
    return ok();
}

bool Tracker::led_off(const Region& place, const Region& there, double t_s) const {
    const double followed = unlikeness(keeper_.region(), place);
    if (followed > other_person && unlikeness(there, place) < same_person &&
        unlikeness(there, keeper_.region()) > other_person)
        return true;
    // While he passes the region may be drawn along with him, half of it hers.
    const bool passing = suspected_s_ && t_s - *suspected_s_ < company_lasts_s;
    const auto from_place = [&](const Region& region) {
        return std::abs(region.centre.x - place.centre.x) / place.side;
    };
    return passing && !keeper_.held() && from_place(there) + drawn_along < from_place(keeper_.region());
}

bool Tracker::read_over(const Region& seen) const {
    const Region& followed = keeper_.region();
    return turned_over(followed, seen) && unlikeness(followed, seen) < other_person;
}

void Tracker::begin_at(const Region& region) {
    keeper_.reset(region);
    held_since_s_.reset();
}

}  // namespace quarterturn::body
