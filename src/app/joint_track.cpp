#include "app/joint_track.hpp"

#include <array>

#include "body/clip_landmarks.hpp"
#include "body/model_files.hpp"
#include "journal/cache.hpp"
#include "journal/store.hpp"
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

std::string cache_key() {
    return share::landmark_key(std::string{body::name_of(body::ModelSize::full)});
}

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

std::optional<journal::Cache> cache_of(const std::filesystem::path& library_folder) {
    if (library_folder.empty()) return std::nullopt;
    auto store = journal::Store::open(library_folder);
    if (!store) return std::nullopt;
    return journal::Cache(store->cache_folder());
}

}  // namespace

std::shared_ptr<const JointTrack> cached_joints(const std::string& fingerprint,
                                                const std::filesystem::path& library_folder) {
    const auto cache = cache_of(library_folder);
    if (!cache) return nullptr;
    const auto bytes = cache->read(journal::CacheKind::landmarks, fingerprint, cache_key());
    if (!bytes) return nullptr;
    const auto series = body::load_series(*bytes);
    return series ? track_of(*series) : nullptr;
}

std::shared_ptr<const JointTrack> measure_joints(const std::filesystem::path& file, const std::string& fingerprint,
                                                 const std::filesystem::path& library_folder,
                                                 const std::stop_token& stop) {
    if (auto kept = cached_joints(fingerprint, library_folder)) return kept;
    const auto models = body::load_models(body::ModelSize::full);
    if (!models) return nullptr;
    const auto index = media::build_index(file, stop);
    if (!index) return nullptr;
    const auto found = body::clip_landmarks(file, *index, *models, {}, stop);
    if (!found) return nullptr;
    // The cache only saves time.
    if (const auto cache = cache_of(library_folder))
        (void)cache->write(journal::CacheKind::landmarks, fingerprint, cache_key(), body::save_series(found->series))
            .has_value();
    return track_of(found->series);
}

}  // namespace quarterturn::app
