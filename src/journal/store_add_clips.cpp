#include <fmt/format.h>

#include "base/fingerprint.hpp"
#include "base/text.hpp"
#include "journal/store_state.hpp"

namespace quarterturn::journal {
namespace {

std::string kept_path(const ClipFacts& facts) {
    return facts.kept_as.empty() ? facts.path.string() : facts.kept_as;
}

/// One call of add_clips, under the lock.
class Adding {
  public:
    Adding(Store::State& state, std::string season, const AddOptions& options, const Author& author)
        : state_(state),
          season_(std::move(season)),
          options_(options),
          author_(author),
          sessions_(state.all<Session>()) {}

    Status add(const ClipFacts& facts) {
        if (!is_fingerprint(facts.fingerprint))
            return Error{ErrorCode::bad_input, fmt::format("{} has no fingerprint.", facts.path.string())};
        if (!is_utf8(facts.path.native()))
            return Error{ErrorCode::bad_input, fmt::format("The name of {} is not UTF-8. Rename it and add it again.",
                                                           to_utf8(facts.path.native()))};
        auto known = load_entry<Clip>(state_.folder, facts.fingerprint);
        if (known && !known->removed) return keep(*std::move(known), facts);
        if (!known && known.error().code != ErrorCode::not_found) return known.error();
        return known ? bring_back(*std::move(known), facts) : add_new(facts);
    }

    ClipsAdded result;

  private:
    /// A known clip that is no longer where it was has moved here.
    Status keep(Clip clip, const ClipFacts& facts) {
        std::error_code failure;
        if (!std::filesystem::exists(clip_file(state_.folder, clip), failure)) {
            clip.path = kept_path(facts);
            auto moved = state_.commit(std::move(clip), author_);
            if (!moved) return moved.error();
            clip = *std::move(moved);
        }
        note(facts, clip, ClipOutcome::known, {});
        return ok();
    }

    Status bring_back(Clip clip, const ClipFacts& facts) {
        clip.removed = false;
        clip.path = kept_path(facts);
        return put(std::move(clip), facts, ClipOutcome::back);
    }

    Status add_new(const ClipFacts& facts) {
        Clip clip;
        clip.id = facts.fingerprint;
        clip.original_name = facts.path.filename().string();
        clip.path = kept_path(facts);
        clip.file_bytes = facts.file_bytes;
        clip.recorded_at = facts.recorded_at;
        clip.mirrored = options_.mirrored.value_or(false);
        const TrueSpeed speed = true_speed(facts);
        clip.time_scale = options_.time_scale.value_or(speed.time_scale);
        clip.speed_source = options_.time_scale ? SpeedSource::given : speed.source;
        clip.created = Store::State::now();
        clip.author = author_;
        return put(std::move(clip), facts, ClipOutcome::added);
    }

    Status put(Clip clip, const ClipFacts& facts, ClipOutcome outcome) {
        const DatedClip dated =
            options_.date ? DatedClip{*options_.date, DateSource::given} : date_of(facts, options_.offset);
        const auto session = session_on(dated);
        if (!session) return session.error();
        clip.session = *session;
        auto written = state_.commit(std::move(clip), author_);
        if (!written) return written.error();
        note(facts, *written, outcome, dated);
        return ok();
    }

    Result<std::string> session_on(const DatedClip& dated) {
        for (const Session& session : sessions_) {
            if (session.season == season_ && session.date == dated.date) return session.id;
        }
        Session session;
        session.id = new_id();
        session.season = season_;
        session.date = dated.date;
        session.date_source = dated.source;
        session.heel_height_cm = options_.heel_height_cm;
        auto begun = state_.begin(std::move(session), author_);
        if (!begun) return begun.error();
        sessions_.push_back(*begun);
        result.new_sessions.push_back(begun->id);
        return begun->id;
    }

    void note(const ClipFacts& facts, const Clip& clip, ClipOutcome outcome, const DatedClip& dated) {
        const bool guessed = dated.source == DateSource::file_name || dated.source == DateSource::file_date;
        const bool ask = outcome != ClipOutcome::known && !options_.time_scale && true_speed(facts).ask;
        result.clips.push_back({clip.id, facts.path, clip.session, outcome, guessed, ask});
    }

    Store::State& state_;
    std::string season_;
    const AddOptions& options_;
    const Author& author_;
    std::vector<Session> sessions_;
};

}  // namespace

Result<ClipsAdded> Store::add_clips(const std::string& season, std::span<const ClipFacts> clips,
                                    const AddOptions& options, const Author& author) {
    const auto held = state_->lock();
    if (!held) return held.error();
    if (Status there = state_->need<Season>(season); !there) return there.error();
    Adding adding{*state_, season, options, author};
    for (const ClipFacts& facts : clips) {
        if (Status added = adding.add(facts); !added) return added.error();
    }
    return std::move(adding.result);
}

}  // namespace quarterturn::journal
