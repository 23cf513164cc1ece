#include "share/film_follower.hpp"

#include "compare/take.hpp"

namespace quarterturn::share {

Result<const media::Picture*> FilmFollower::at(double seconds) {
    while (!next_ || compare::seconds_of(clip_, next_->pts) <= seconds + 1e-4) {
        if (next_) shown_ = std::move(next_);
        next_.reset();
        if (ended_) break;
        auto picture = reader_.next();
        if (!picture) return picture.error();
        if (!*picture) {
            ended_ = true;
            break;
        }
        next_ = std::move(**picture);
        if (!shown_) shown_ = next_;
    }
    if (!shown_) return Error{ErrorCode::bad_input, "No picture of the earlier film can be decoded."};
    return &*shown_;
}

}  // namespace quarterturn::share
