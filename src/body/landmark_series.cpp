#include "body/landmark_series.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <type_traits>

namespace quarterturn::body {
namespace {

// "quarterturn landmarks", then the layout's version; integers little-endian, least significant byte first.
constexpr std::string_view mark = "QTLANDMK";
constexpr std::uint32_t layout_version = 1;
constexpr std::uint32_t longest_text = 1U << 16U;

constexpr float steps_per_pixel = 64;
constexpr float steps_per_share = 255;
constexpr float steps_per_metre = 1000;

template <class Integer>
Integer steps(float value, float per_unit) {
    const double scaled = std::round(static_cast<double>(value) * static_cast<double>(per_unit));
    const double low = static_cast<double>(std::numeric_limits<Integer>::min());
    const double high = static_cast<double>(std::numeric_limits<Integer>::max());
    return static_cast<Integer>(std::clamp(scaled, low, high));
}

class Writer {
  public:
    template <class T>
    void put(T value) {
        using Bits =
            std::conditional_t<sizeof(T) == 8, std::uint64_t,
                               std::conditional_t<sizeof(T) == 4, std::uint32_t,
                                                  std::conditional_t<sizeof(T) == 2, std::uint16_t, std::uint8_t>>>;
        const auto bits = std::bit_cast<Bits>(value);
        for (std::size_t i = 0; i < sizeof(T); ++i) bytes_ += static_cast<char>((bits >> (8 * i)) & 0xffU);
    }
    void put_text(std::string_view text) {
        put(static_cast<std::uint32_t>(text.size()));
        bytes_ += text;
    }
    [[nodiscard]] std::string take() { return std::move(bytes_); }
    [[nodiscard]] const std::string& bytes() const { return bytes_; }

  private:
    std::string bytes_;
};

/// Past the end it gives zeros and remembers; one test of `sound()` at the end is enough.
class Reader {
  public:
    explicit Reader(std::string_view bytes) : rest_(bytes) {}
    template <class T>
    [[nodiscard]] T get() {
        using Bits =
            std::conditional_t<sizeof(T) == 8, std::uint64_t,
                               std::conditional_t<sizeof(T) == 4, std::uint32_t,
                                                  std::conditional_t<sizeof(T) == 2, std::uint16_t, std::uint8_t>>>;
        sound_ = sound_ && rest_.size() >= sizeof(T);
        if (!sound_) return T{};
        std::uint64_t bits = 0;
        for (std::size_t i = 0; i < sizeof(T); ++i)
            bits |= std::uint64_t{static_cast<unsigned char>(rest_[i])} << (8 * i);
        rest_.remove_prefix(sizeof(T));
        return std::bit_cast<T>(static_cast<Bits>(bits));
    }
    [[nodiscard]] std::string get_text() {
        const auto size = get<std::uint32_t>();
        sound_ = sound_ && size <= longest_text && size <= rest_.size();
        if (!sound_) return {};
        std::string text{rest_.substr(0, size)};
        rest_.remove_prefix(size);
        return text;
    }
    [[nodiscard]] bool sound() const { return sound_; }
    [[nodiscard]] std::size_t left() const { return rest_.size(); }

  private:
    std::string_view rest_;
    bool sound_ = true;
};

/// Fowler-Noll-Vo 1a, 64 bit: finds damage, not forgery.
std::uint64_t checksum(std::string_view bytes) {
    std::uint64_t hash = 0xcbf29ce484222325ULL;
    for (const char byte : bytes) hash = (hash ^ static_cast<unsigned char>(byte)) * 0x100000001b3ULL;
    return hash;
}

void put_body(Writer& out, const Body& body) {
    for (const Landmark& landmark : body.landmarks) {
        out.put(steps<std::int32_t>(landmark.x, steps_per_pixel));
        out.put(steps<std::int32_t>(landmark.y, steps_per_pixel));
        out.put(steps<std::uint8_t>(landmark.visibility, steps_per_share));
        out.put(steps<std::uint8_t>(landmark.presence, steps_per_share));
    }
    for (const WorldPoint& point : body.world) {
        for (const float value : {point.x, point.y, point.z}) out.put(steps<std::int16_t>(value, steps_per_metre));
    }
}

Body get_body(Reader& in) {
    Body body;
    for (Landmark& landmark : body.landmarks) {
        landmark.x = static_cast<float>(in.get<std::int32_t>()) / steps_per_pixel;
        landmark.y = static_cast<float>(in.get<std::int32_t>()) / steps_per_pixel;
        landmark.visibility = static_cast<float>(in.get<std::uint8_t>()) / steps_per_share;
        landmark.presence = static_cast<float>(in.get<std::uint8_t>()) / steps_per_share;
    }
    for (WorldPoint& point : body.world) {
        for (float* value : {&point.x, &point.y, &point.z}) {
            *value = static_cast<float>(in.get<std::int16_t>()) / steps_per_metre;
        }
    }
    return body;
}

enum FrameBits : std::uint8_t { has_body = 1, has_region = 2, is_held = 4, in_company = 8 };

void put_frame(Writer& out, const LandmarkFrame& frame) {
    const int bits = (frame.body ? has_body : 0) | (frame.region ? has_region : 0) | (frame.held ? is_held : 0) |
                     (frame.company ? in_company : 0);
    out.put(frame.pts);
    out.put(frame.t_s);
    out.put(static_cast<std::uint8_t>(bits));
    out.put(frame.confidence);
    if (frame.region) {
        for (const double value :
             {frame.region->centre.x, frame.region->centre.y, frame.region->side, frame.region->angle_rad})
            out.put(value);
    }
    if (frame.body) put_body(out, *frame.body);
}

LandmarkFrame get_frame(Reader& in) {
    LandmarkFrame frame;
    frame.pts = in.get<std::int64_t>();
    frame.t_s = in.get<double>();
    const auto bits = in.get<std::uint8_t>();
    frame.confidence = in.get<float>();
    frame.held = (bits & is_held) != 0;
    frame.company = (bits & in_company) != 0;
    if ((bits & has_region) != 0) {
        Region region;
        for (double* value : {&region.centre.x, &region.centre.y, &region.side, &region.angle_rad})
            *value = in.get<double>();
        frame.region = region;
    }
    if ((bits & has_body) != 0) frame.body = get_body(in);
    return frame;
}

Error damaged() {
    return {ErrorCode::bad_input, "The kept landmarks are damaged; they will be computed again."};
}

bool plausible(const Region& region) {
    return region.side > 0 && std::isfinite(region.side) && std::isfinite(region.centre.x) &&
           std::isfinite(region.centre.y) && std::isfinite(region.angle_rad);
}

bool plausible(const LandmarkSeries& series) {
    for (std::size_t i = 0; i < series.frames.size(); ++i) {
        const LandmarkFrame& frame = series.frames[i];
        if (i > 0 && frame.pts <= series.frames[i - 1].pts) return false;
        if (!std::isfinite(frame.t_s) || !std::isfinite(frame.confidence)) return false;
        if (frame.region && !plausible(*frame.region)) return false;
    }
    return std::isfinite(series.rate_hz) && series.time_base.num > 0 && series.time_base.den > 0 && series.width > 0 &&
           series.height > 0;
}

}  // namespace

void round_for_keeping(Body& body) {
    for (Landmark& landmark : body.landmarks) {
        landmark.x = static_cast<float>(steps<std::int32_t>(landmark.x, steps_per_pixel)) / steps_per_pixel;
        landmark.y = static_cast<float>(steps<std::int32_t>(landmark.y, steps_per_pixel)) / steps_per_pixel;
        landmark.visibility =
            static_cast<float>(steps<std::uint8_t>(landmark.visibility, steps_per_share)) / steps_per_share;
        landmark.presence =
            static_cast<float>(steps<std::uint8_t>(landmark.presence, steps_per_share)) / steps_per_share;
    }
    for (WorldPoint& point : body.world) {
        for (float* value : {&point.x, &point.y, &point.z}) {
            *value = static_cast<float>(steps<std::int16_t>(*value, steps_per_metre)) / steps_per_metre;
        }
    }
}

std::string save_series(const LandmarkSeries& series) {
    Writer out;
    for (const char letter : mark) out.put(letter);
    out.put(layout_version);
    out.put_text(series.model);
    out.put_text(series.version);
    out.put(series.rate_hz);
    out.put(series.time_base.num);
    out.put(series.time_base.den);
    out.put(series.width);
    out.put(series.height);
    out.put(static_cast<std::uint32_t>(series.warnings.size()));
    for (const std::string& warning : series.warnings) out.put_text(warning);
    out.put(static_cast<std::uint32_t>(series.frames.size()));
    for (const LandmarkFrame& frame : series.frames) put_frame(out, frame);
    out.put(checksum(out.bytes()));
    return out.take();
}

Result<LandmarkSeries> load_series(std::string_view bytes) {
    constexpr std::size_t check_bytes = 8;
    if (bytes.size() < mark.size() + 4 + check_bytes || !bytes.starts_with(mark)) return damaged();
    Reader tail{bytes.substr(bytes.size() - check_bytes)};
    Reader in{bytes.substr(mark.size(), bytes.size() - mark.size() - check_bytes)};
    if (in.get<std::uint32_t>() > layout_version) {
        return Error{ErrorCode::newer_version, "The kept landmarks were written by a newer version of the program."};
    }
    if (tail.get<std::uint64_t>() != checksum(bytes.substr(0, bytes.size() - check_bytes))) return damaged();
    LandmarkSeries series;
    series.model = in.get_text();
    series.version = in.get_text();
    series.rate_hz = in.get<double>();
    series.time_base.num = in.get<std::int64_t>();
    series.time_base.den = in.get<std::int64_t>();
    series.width = in.get<int>();
    series.height = in.get<int>();
    const auto warnings = in.get<std::uint32_t>();
    for (std::uint32_t i = 0; i < warnings && in.sound(); ++i) series.warnings.push_back(in.get_text());
    const auto frames = in.get<std::uint32_t>();
    for (std::uint32_t i = 0; i < frames && in.sound(); ++i) series.frames.push_back(get_frame(in));
    if (!in.sound() || in.left() != 0 || !plausible(series)) return damaged();
    return series;
}

}  // namespace quarterturn::body
