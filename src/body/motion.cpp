#include "body/motion.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "body/film_facts.hpp"
#include "media/fingerprint_of.hpp"
#include "media/image.hpp"
#include "media/linear_reader.hpp"

namespace quarterturn::body {
namespace {

/// Pictures for comparing postures: this far apart, further in long films so that they stay below some 130 MB.
constexpr double picture_every_s = 0.2;
constexpr double most_pictures = 3000;

/// On the demo films the measured speed reaches the limit late and leaves it early by about 0.02 s (median of 60 bounds
/// each): it is a tenth too small, as a neighbourhood holds some of the wall behind a limb.
constexpr double too_small_by = 1.1;

Error cancelled() {
    return {ErrorCode::cancelled, "Stopped before the film was measured."};
}

/// Takes one picture after the other and records the steps between those that are measured.
class Recorder {
  public:
    Recorder(const media::ClipInfo& info, const MotionSettings& settings)
        : info_(info),
          settings_(settings),
          keep_every_s_(std::max(picture_every_s, info.duration_s * settings.time_scale / most_pictures)) {}

    void take(const media::Picture& picture) {
        if (!pts_.empty() && picture.pts <= pts_.back()) return;
        pts_.push_back(picture.pts);
        const double t = seconds_between(pts_.front(), picture.pts, info_.time_base) * settings_.time_scale;
        // A picture a little early counts, or a rate of 29.97 would measure every third one instead of every second.
        if (last_ && t - last_t_ < 0.9 / settings_.rate_hz) return;
        Result<media::Image> grey = media::to_grey(picture, info_, settings_.rows);
        if (!grey) return;
        const cv::Mat image(grey->height, grey->width, CV_8U, grey->samples.data());
        measure(image, t);
    }

    [[nodiscard]] const std::vector<std::int64_t>& pts() const { return pts_; }
    [[nodiscard]] MotionSeries finish(double smoothing_s) {
        return summarise(record_, std::move(pictures_), std::move(pts_), smoothing_s);
    }

  private:
    void measure(const cv::Mat& image, double t) {
        cv::Mat prepared = prepare_picture(image);
        if (last_ && prepared.size() == last_->size() && prepared.cols >= 8 * cell_px && prepared.rows >= 8 * cell_px)
            record_.add(last_t_, t, flow_between(*last_, prepared));
        if (pictures_.size() == 0 || t - kept_t_ >= keep_every_s_ * 0.99) {
            pictures_.add(t, image);
            kept_t_ = t;
        }
        last_ = std::move(prepared);
        last_t_ = t;
    }

    const media::ClipInfo& info_;
    const MotionSettings& settings_;
    double keep_every_s_;
    std::vector<std::int64_t> pts_;
    std::optional<cv::Mat> last_;
    double last_t_ = 0;
    double kept_t_ = 0;
    MotionRecord record_;
    PosturePictures pictures_;
};

void report(const Progress& progress, const Recorder& recorder, const media::ClipInfo& info) {
    if (!progress || recorder.pts().empty() || info.duration_s <= 0) return;
    const double done = seconds_between(recorder.pts().front(), recorder.pts().back(), info.time_base);
    progress(std::clamp(done / info.duration_s, 0.0, 1.0));
}

}  // namespace

std::optional<double> MotionSeries::posture_change(double before_from_s, double before_to_s, double after_from_s,
                                                   double after_to_s) const {
    if (!place) return std::nullopt;
    const std::optional<double> moved = pictures.moved_px(before_from_s, before_to_s, after_from_s, after_to_s, *place);
    if (!moved) return std::nullopt;
    return *moved / place->height_px;
}

MotionSeries summarise(const MotionRecord& record, PosturePictures pictures, std::vector<std::int64_t> picture_pts,
                       double smoothing_s) {
    MotionSeries series;
    series.pictures = std::move(pictures);
    series.picture_pts = std::move(picture_pts);
    const SpeedRecord speeds(record, smoothing_s);
    series.place = find_athlete_place(speeds);
    for (std::size_t i = 0; i < record.steps().size(); ++i) {
        series.t_s.push_back(record.steps()[i].middle_s());
        series.energy.push_back(static_cast<double>(record.steps()[i].energy));
        if (!series.place) {
            series.speed.emplace_back();
            series.in_place.emplace_back();
            continue;
        }
        const MovementAt movement = movement_at(speeds, i, *series.place);
        series.speed.emplace_back(too_small_by * movement.speed_px / series.place->height_px);
        series.in_place.push_back(movement.in_place);
    }
    return series;
}

Result<ObservedMotion> observe_motion(const std::filesystem::path& path, const MotionSettings& settings,
                                      std::stop_token stop, const Progress& progress) {
    Result<media::LinearReader> reader = media::LinearReader::open(path, {settings.threads});
    if (!reader) return reader.error();
    const media::ClipInfo info = reader->info().turned_to(settings.rotation_deg);
    Recorder recorder(info, settings);
    while (true) {
        if (stop.stop_requested()) return cancelled();
        const Result<std::optional<media::Picture>> picture = reader->next();
        if (!picture) return picture.error();
        if (!*picture) break;
        recorder.take(**picture);
        report(progress, recorder, info);
    }
    if (recorder.pts().empty())
        return Error{ErrorCode::bad_input, "Not one picture of " + to_utf8(path.filename().string()) +
                                               " could be read; copy the film again from the phone."};
    ObservedMotion out{film_facts(path, info, recorder.pts(), settings.time_scale, settings.mirrored), {}};
    out.clip.warnings = reader->warnings();
    Result<std::string> fingerprint = media::fingerprint_of(path, stop);
    if (!fingerprint) return fingerprint.error();
    out.clip.fingerprint = std::move(fingerprint).value();
    out.motion = recorder.finish(settings.smoothing_s);
    return out;
}

}  // namespace quarterturn::body
