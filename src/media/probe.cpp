#include "media/probe.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "media/describe.hpp"
#include "media/source.hpp"

namespace quarterturn::media {
namespace {

bool lies_on_its_side(const ClipInfo& info) {
    return std::abs(info.rotation_deg) == 90;
}

/// Stored size with samples made square by widening, never by dropping rows or columns.
int square_width(const ClipInfo& info) {
    const double ratio = static_cast<double>(info.sample_aspect_num) / info.sample_aspect_den;
    return ratio > 1 ? static_cast<int>(std::lround(info.width * ratio)) : info.width;
}

int square_height(const ClipInfo& info) {
    const double ratio = static_cast<double>(info.sample_aspect_den) / info.sample_aspect_num;
    return ratio > 1 ? static_cast<int>(std::lround(info.height * ratio)) : info.height;
}

}  // namespace

int ClipInfo::shown_width() const {
    return lies_on_its_side(*this) ? square_height(*this) : square_width(*this);
}
int ClipInfo::shown_height() const {
    return lies_on_its_side(*this) ? square_width(*this) : square_height(*this);
}

ClipInfo ClipInfo::turned_to(std::optional<int> rotation) const {
    ClipInfo info = *this;
    if (rotation) info.rotation_deg = *rotation;
    return info;
}

Result<ClipInfo> probe(const std::filesystem::path& path) {
    const Result<Source> source = open_source(path);
    if (!source) return source.error();
    const Result<CodecPtr> decoder = open_decoder(*source, path, {1});
    if (!decoder) return decoder.error();
    return describe(*source, path);
}

}  // namespace quarterturn::media
