#pragma once
/// Stills out of films, ready to stand inside a page.
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "base/result.hpp"
#include "journal/clip.hpp"
#include "media/image.hpp"

namespace quarterturn::share {

struct Still {
    std::string data_uri;  ///< "data:image/jpeg;base64,..."
    int width = 0, height = 0;
    std::string lines = {};  ///< markup drawn over it, made by still_lines; empty: none
};

/// What a person said about how a film was held.
struct Upright {
    std::optional<int> rotation_deg;  ///< instead of the file's
    double tilt_deg = 0;              ///< turned clockwise by so much
    bool mirrored = false;            ///< the film shows left and right swapped
    bool operator==(const Upright&) const = default;
};
[[nodiscard]] Upright upright_of(const journal::Clip& clip);

/// The picture as RGB with the room upright, mirrored back where the film is mirrored; corners that a tilt leaves empty
/// repeat the edge.
/// @param max_height  rows at most; 0: as many as there are
/// @error as media::to_rgb
[[nodiscard]] Result<media::Image> upright_image(const media::Picture& picture, const media::ClipInfo& info,
                                                 const Upright& how, int max_height);

/// Keeps the film opened last, so ask clip by clip.
class FilmStills {
  public:
    using FilmOf = std::function<Result<std::filesystem::path>(const journal::Clip&)>;
    FilmStills(FilmOf film_of, int max_height);
    ~FilmStills();
    FilmStills(const FilmStills&) = delete;
    FilmStills& operator=(const FilmStills&) = delete;

    /// The picture nearest to `pts`, upright by the clip's own rotation and tilt, mirrored back where the film is
    /// mirrored.
    /// @error as FilmOf, media::ExactReader and media::encode_jpeg
    [[nodiscard]] Result<Still> at(const journal::Clip& clip, std::int64_t pts);

  private:
    struct Film;
    [[nodiscard]] Status open(const journal::Clip& clip);
    FilmOf film_of_;
    int max_height_;
    std::unique_ptr<Film> film_;
};

}  // namespace quarterturn::share
