#pragma once
/// Pictures of two sides of a comparison beside each other: this one on the left, the earlier one on the right, brought
/// to the same scale, place and upright. They carry no place, device or time of making.
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "compare/comparison.hpp"
#include "media/image.hpp"
#include "rules/rule_set.hpp"
#include "share/compare_films.hpp"

namespace quarterturn::share {

/// How a still shows both.
enum class Look {
    beside,  ///< next to each other
    over,    ///< the earlier one half seen through
    edge,    ///< the left half of this one, the right half of the earlier one
    outline  ///< the earlier silhouette's outline on this one; needs the landmark model
};

struct SideBySide {
    const rules::RuleSet* rules = nullptr;  ///< whose names poses have
    bool match_light = false;               ///< exposure and white balance of the earlier picture (light_match.hpp)
    Look look = Look::beside;               ///< of stills
    MeasureSettings models;                 ///< which landmark model the outline is found with
    bool sound = true;                      ///< a film keeps the sound of this one
    int max_height = 1080;                  ///< rows of one picture
    int quality = 23;                       ///< of a film, as FilmSettings
    std::stop_token stop;
    std::function<void(double)> progress;  ///< told 0..1 now and then
};

/// The steadiest moments of one pair, the earlier one laid over; both of one size.
struct PairImages {
    media::Image now, before;
    bool aligned = false;                         ///< else the earlier one is only fitted into the frame
    std::optional<compare::Point> before_pelvis;  ///< in `before`; absent without landmarks
};

/// Takes pictures out of the films of two sides; keeps the last film of each open.
class PairPictures {
  public:
    PairPictures(const ComparedSide& now, const ComparedSide& before);
    ~PairPictures();
    PairPictures(const PairPictures&) = delete;
    PairPictures& operator=(const PairPictures&) = delete;

    /// @error as media::ExactReader and to_rgb
    [[nodiscard]] Result<PairImages> of(const compare::Comparison& comparison, const compare::PairComparison& pair,
                                        int max_height, bool match_light);

  private:
    struct Films;
    std::unique_ptr<Films> films_;
};

/// A PNG file with a caption: one pair in full size, several as a sheet.
/// @return remarks: plain sentences about what is missing in it
/// @error bad_input: there is no pair; as PairPictures and write_file
[[nodiscard]] Result<std::vector<std::string>> write_pair_still(const ComparedSide& now, const ComparedSide& before,
                                                                const compare::Comparison& comparison,
                                                                const SideBySide& how,
                                                                const std::filesystem::path& out);

/// An MP4 film (H.264, yuv420p, index in front): this film at its own true speed, the earlier one following it by the
/// time map. Of sessions the two clips that have most pairs in common. Where only one pose is compared, that hold with
/// a second to either side. Nothing is left behind when it fails or is stopped.
/// @error bad_input: there is no pair, or `out` is one of the films; cancelled; as LinearReader and FilmWriter
[[nodiscard]] Status write_side_by_side_film(const ComparedSide& now, const ComparedSide& before,
                                             const compare::Comparison& comparison, const SideBySide& how,
                                             const std::filesystem::path& out);

}  // namespace quarterturn::share
