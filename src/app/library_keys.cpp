// What keys mean for the clips of the library: on its page, and on the clip page for the clip that is open.
#include <algorithm>

#include "app/apply.hpp"

namespace quarterturn::app {
namespace {

Commands only(Command command) {
    Commands commands;
    commands.push_back(std::move(command));
    return commands;
}

/// The clip the keys are about; nullptr where there is none.
const journal::Clip* clip_here(const ReviewState& state) {
    if (state.place == Place::clip && state.clip) return state.library->find_clip(state.clip->fingerprint);
    return state.library->find_clip(state.library_clip);
}

/// The entry after (or before) `here`; the first when `here` is not among them. nullptr at the end.
template <class Entry>
const Entry* neighbour(const std::vector<const Entry*>& entries, const std::string& here, bool forwards) {
    const auto at = std::find_if(entries.begin(), entries.end(), [&](const Entry* entry) { return entry->id == here; });
    if (at == entries.end()) return entries.empty() ? nullptr : entries.front();
    if (forwards) return at + 1 == entries.end() ? nullptr : *(at + 1);
    return at == entries.begin() ? nullptr : *(at - 1);
}

Commands other_clip(const ReviewState& state, bool forwards) {
    if (state.moving) {
        const auto* session = neighbour(sessions_in_order(*state.library), state.moving->session, forwards);
        return session != nullptr ? only(PointAtSession{session->id}) : Commands{};
    }
    const bool open = state.place == Place::clip;
    const auto* clip = neighbour(clips_in_order(state), open ? state.clip->fingerprint : state.library_clip, forwards);
    if (clip == nullptr) return {};
    return open ? only(OpenFromLibrary{clip->id}) : only(ChooseClip{clip->id});
}

Commands other_season(const ReviewState& state, bool forwards) {
    std::vector<const journal::Season*> seasons;
    for (const journal::Season& season : state.library->seasons) seasons.push_back(&season);
    const auto* season = neighbour(seasons, state.season, forwards);
    return season != nullptr ? only(ChooseSeason{season->id}) : Commands{};
}

Commands about_clip(const ReviewState& state, const journal::Clip& clip, Action action) {
    journal::Clip changed = clip;
    switch (action) {
        case Action::move_clip:
            return only(StartMoving{clip.id});
        case Action::clip_counts:
            changed.counts = !clip.counts;
            return only(SetClip{changed, clip.counts ? "Leave the take out" : "Let the take count"});
        case Action::turn_mirrored_film:
            changed.mirrored = !clip.mirrored;
            return only(SetClip{changed, "Mirrored film"});
        case Action::take_clip_out:
            return state.place == Place::library ? only(TakeClipOut{clip.id}) : Commands{};
        case Action::measure_clip:
            return only(AnalyseClip{clip.id});
        case Action::open_clip:
            if (state.moving) return only(MoveClip{state.moving->clip, state.moving->session});
            return state.place == Place::library ? only(OpenFromLibrary{clip.id}) : Commands{};
        default:
            return {};
    }
}

}  // namespace

std::vector<const journal::Clip*> clips_in_order(const ReviewState& state) {
    std::vector<const journal::Clip*> clips;
    if (!state.library) return clips;
    auto sessions = state.library->sessions_of(state.season);
    std::reverse(sessions.begin(), sessions.end());
    for (const journal::Session* session : sessions)
        for (const journal::Clip* clip : state.library->clips_of(session->id)) clips.push_back(clip);
    return clips;
}

std::vector<const journal::Session*> sessions_in_order(const journal::Library& library) {
    std::vector<const journal::Session*> all;
    for (auto season = library.seasons.rbegin(); season != library.seasons.rend(); ++season) {
        const auto sessions = library.sessions_of(season->id);
        all.insert(all.end(), sessions.rbegin(), sessions.rend());
    }
    return all;
}

Commands library_commands_for(const ReviewState& state, Action action) {
    if (!state.library) return {};
    switch (action) {
        case Action::next_clip:
            return other_clip(state, true);
        case Action::previous_clip:
            return other_clip(state, false);
        case Action::next_season:
            return other_season(state, true);
        case Action::previous_season:
            return other_season(state, false);
        default:
            break;
    }
    const auto* clip = clip_here(state);
    return clip != nullptr ? about_clip(state, *clip, action) : Commands{};
}

}  // namespace quarterturn::app
