#include "kept_film.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "body/model_files.hpp"
#include "rules/rule_sets.hpp"

namespace quarterturn::bench {
namespace {

namespace fs = std::filesystem;

Result<fs::path> script_of(const fs::path& film) {
    fs::path truth = film;
    truth.replace_extension(".truth.json");
    const auto text = read_file(truth);
    if (!text) return text.error();
    const auto document = nlohmann::json::parse(*text, nullptr, false);
    if (document.is_discarded() || !document.is_object()) return Error{ErrorCode::bad_input, truth.string()};
    const std::string name = document.value("script", "") + ".json";
    const fs::path scripts = fs::path(QUARTERTURN_SOURCE_DIR) / "sample_clips" / "scripts";
    for (const auto& entry : fs::recursive_directory_iterator(scripts))
        if (entry.path().filename() == name) return entry.path();
    return Error{ErrorCode::not_found, "no routine " + name};
}

std::optional<rules::RuleSet> fitting_rules(const sample::Script& script, const sample::Truth& truth) {
    const std::string_view sex = script.body.sex == sample::Sex::female ? "womens_" : "mens_";
    std::optional<rules::RuleSet> best;
    double most = -1;
    for (const std::string& id : rules::bundled_rule_sets()) {
        const auto rules = rules::bundled_rule_set(id);
        if (!rules || !id.starts_with(sex)) continue;
        double asked = -0.01 * static_cast<double>(rules->poses.size());  // the smallest of those that fit alike
        for (const sample::TrueSegment& segment : truth.segments)
            if (segment.kind == sample::TrueKind::hold && rules->find_pose(segment.pose) != nullptr) asked += 1;
        if (asked <= most) continue;
        most = asked;
        best = *rules;
    }
    return best;
}

class Keeper {
  public:
    Keeper(KeptFilm& film, const KeepSettings& settings) : film_(film), settings_(settings) {
        const std::string& print = film.read.clip.fingerprint;
        std::string stem = fmt::format("{}-full-{}", print.substr(print.find(':') + 1, 24), body::landmark_version());
        std::replace(stem.begin(), stem.end(), '/', '_');
        series_ = settings.folder / (stem + ".landmarks");
        shake_ = settings.folder / (stem + ".shake");
        trunk_ = settings.folder / fmt::format("{}-{}.trunk", stem, trunk_pictures_version);
    }

    [[nodiscard]] bool load() {
        if (settings_.folder.empty() || settings_.fresh) return false;
        const auto series = read_file(series_, limit);
        if (!series) return false;
        auto landmarks = body::load_series(*series);
        if (!landmarks) return false;
        film_.seen.series = std::move(*landmarks);
        const auto shaken = read_file(shake_, limit);
        if (!shaken) return false;
        auto shake = load_shake(*shaken);
        if (!shake) return false;
        film_.seen.shake = std::move(*shake);
        if (!settings_.trunk) return true;
        const auto bytes = read_file(trunk_, limit);
        if (!bytes) return false;
        auto pictures = load_trunk(*bytes);
        if (!pictures) return false;
        film_.seen.trunk = std::move(*pictures);
        return true;
    }

    void save() const {
        if (settings_.folder.empty()) return;
        fs::create_directories(settings_.folder);
        const auto series = write_file(series_, body::save_series(film_.seen.series));
        const auto shake = write_file(shake_, save_shake(film_.seen.shake));
        const auto trunk = write_file(trunk_, save_trunk(film_.seen.trunk));
        for (const Status& status : {series, shake, trunk})
            if (!status) fmt::print("not kept: {}\n", status.error().detail);
    }

  private:
    static constexpr std::uint64_t limit = 4ULL << 30U;
    KeptFilm& film_;
    const KeepSettings& settings_;
    fs::path series_, shake_, trunk_;
};

}  // namespace

Result<KeptFilm> kept_film(const fs::path& path, const KeepSettings& settings) {
    const auto script_path = script_of(path);
    if (!script_path) return script_path.error();
    auto script = sample::load_script(*script_path);
    if (!script) return script.error();
    KeptFilm film;
    film.path = path;
    film.script = std::move(*script);
    film.truth = sample::true_of(film.script);
    film.knowledge.height_cm = 100 * (film.script.body.height_m + film.script.body.heels_m);
    film.knowledge.mirrored = film.script.camera.mirrored;
    film.knowledge.rule_set = fitting_rules(film.script, film.truth);
    share::MeasureSettings measure;
    auto read = share::read_film(path, film.knowledge, measure);
    if (!read) return read.error();
    film.read = std::move(*read);
    Keeper keeper(film, settings);
    if (keeper.load()) return film;
    auto seen = share::look_at(path, film.read, measure);
    if (!seen) return seen.error();
    film.seen = std::move(*seen);
    keeper.save();
    return film;
}

}  // namespace quarterturn::bench
