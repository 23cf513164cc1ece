#include "sample_scripts.hpp"

#include <algorithm>

namespace quarterturn::test {

std::vector<std::filesystem::path> scripts_in(const std::string& folder) {
    std::vector<std::filesystem::path> scripts;
    const auto base = std::filesystem::path(QUARTERTURN_SOURCE_DIR) / "sample_clips" / "scripts" / folder;
    for (const auto& entry : std::filesystem::directory_iterator(base))
        if (entry.path().extension() == ".json") scripts.push_back(entry.path());
    std::sort(scripts.begin(), scripts.end());
    return scripts;
}

Result<TrueFilm> true_film(const std::filesystem::path& path) {
    Result<sample::Script> script = sample::load_script(path);
    if (!script) return script.error();
    TrueFilm film{std::move(script).value(), {}, {}, {}};
    film.truth = sample::true_of(film.script);
    const double height = sample::Timeline(film.script).bones().height;
    // Shoulders, elbows, wrists, hips, knees, ankles, left before right, among the 33 points.
    constexpr std::array<std::size_t, posing::main_joint_count> point{11, 12, 13, 14, 15, 16, 23, 24, 25, 26, 27, 28};
    for (const sample::TruePicture& picture : film.truth.pictures) {
        posing::Posture posture;
        for (std::size_t i = 0; i < posing::main_joint_count; ++i) {
            const auto& at = picture.points[point[i]].m;
            posture[i] = posing::JointPosition{at.x / height, at.y / height, at.z / height};
        }
        film.joints.t_s.push_back(picture.t_s);
        film.joints.postures.push_back(posture);
        film.joints.facing_deg.emplace_back(picture.pelvis_yaw_deg);
    }
    for (const sample::TrueSegment& segment : film.truth.segments)
        if (segment.kind == sample::TrueKind::hold || segment.kind == sample::TrueKind::pause)
            film.stills.push_back(
                {{segment.start_s, segment.end_s}, segment.kind == sample::TrueKind::hold, segment.pose});
    return film;
}

}  // namespace quarterturn::test
