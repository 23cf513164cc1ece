#pragma once
/// What an analysis remembers about the film it was made from; rooms above learn about the film from here only.
#include <cstdint>
#include <string>
#include <vector>

#include "base/media_time.hpp"

namespace quarterturn::body {

struct ClipFacts {
    std::string file;                   ///< name without folders, UTF-8
    std::string fingerprint;            ///< sha256:...
    double duration_s = 0;              ///< true seconds, last picture's own length included
    std::int64_t frames = 0;            ///< pictures that could be read
    int width = 0, height = 0;          ///< shown upright
    int rotation_deg = 0;               ///< as stored, in (-180, 180]
    TimeBase time_base;                 ///< every pts of the analysis is in it
    std::int64_t first_pts = 0;         ///< the picture at second 0
    double time_scale = 1;              ///< true seconds per stored second; 0.25 for 120/s stored as 30/s
    bool mirrored = false;              ///< left and right are swapped in the film
    std::vector<std::string> warnings;  ///< plain sentences
};

}  // namespace quarterturn::body
