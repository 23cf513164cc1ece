#include "app/joint_track.hpp"

#include <array>

#include "body/landmark_series.hpp"
#include "share/measure.hpp"

namespace quarterturn::app {
namespace {

using body::Joint;

struct Name {
    Joint joint;
    const char* name;
};
constexpr std::array names{Name{Joint::nose, "nose"},
                           Name{Joint::left_shoulder, "left_shoulder"},
                           Name{Joint::right_shoulder, "right_shoulder"},
                           Name{Joint::left_elbow, "left_elbow"},
                           Name{Joint::right_elbow, "right_elbow"},
                           Name{Joint::left_wrist, "left_wrist"},
                           Name{Joint::right_wrist, "right_wrist"},
                           Name{Joint::left_hip, "left_hip"},
                           Name{Joint::right_hip, "right_hip"},
                           Name{Joint::left_knee, "left_knee"},
                           Name{Joint::right_knee, "right_knee"},
                           Name{Joint::left_ankle, "left_ankle"},
                           Name{Joint::right_ankle, "right_ankle"},
                           Name{Joint::left_foot_tip, "left_foot_tip"},
                           Name{Joint::right_foot_tip, "right_foot_tip"}};
constexpr float seen = 0.3F;  // below this a landmark is a guess and is not drawn

std::shared_ptr<const JointTrack> track_of(const body::LandmarkSeries& series) {
    auto track = std::make_shared<JointTrack>();
    for (const auto& frame : series.frames) {
        if (!frame.body || series.width <= 0 || series.height <= 0) continue;
        std::vector<NamedSpot> joints;
        for (const Name& name : names) {
            const body::Landmark& landmark = (*frame.body)[name.joint];
            if (landmark.visibility < seen) continue;
            joints.push_back(
                {name.name,
                 {static_cast<double>(landmark.x) / series.width, static_cast<double>(landmark.y) / series.height}});
        }
        track->pts.push_back(frame.pts);
        track->joints.push_back(std::move(joints));
    }
    return track;
}

}  // namespace

std::optional<KnownClip> known_clip(const std::string& fingerprint, const std::filesystem::path& library_folder,
                                    const std::shared_ptr<const journal::Library>& library) {
    const auto* clip = library ? library->find_clip(fingerprint) : nullptr;
    if (clip == nullptr) return std::nullopt;
    auto store = journal::Store::open(library_folder);
    if (!store) return std::nullopt;
    return KnownClip{std::move(*store), library, *clip};
}

std::shared_ptr<const JointTrack> cached_joints(const KnownClip& known) {
    const auto series = share::cached_landmarks(known.store, *known.library, known.clip, {});
    return series ? track_of(*series) : nullptr;
}

std::shared_ptr<const JointTrack> measure_joints(const std::filesystem::path& file,
                                                 const std::optional<KnownClip>& known, const std::stop_token& stop) {
    share::MeasureSettings settings;
    settings.stop = stop;
    share::FilmKnowledge knowledge;
    if (known) {
        if (auto kept = cached_joints(*known)) return kept;
        if (auto more = share::knowledge_of(known->store, *known->library, known->clip)) knowledge = std::move(*more);
        settings = share::with_choices_of(*known->library, settings);
        settings.cache_folder = known->store.cache_folder();
    }
    const auto series = share::film_landmarks(file, knowledge, settings);
    return series ? track_of(*series) : nullptr;
}

}  // namespace quarterturn::app
