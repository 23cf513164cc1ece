#pragma once
/// Stills out of films, ready to stand inside a page.
#include <filesystem>
#include <functional>
#include <memory>
#include <string>

#include "base/result.hpp"
#include "journal/clip.hpp"

namespace quarterturn::share {

struct Still {
    std::string data_uri;  ///< "data:image/jpeg;base64,..."
    int width = 0, height = 0;
    std::string lines = {};  ///< markup drawn over it, made by still_lines; empty: none
};

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
