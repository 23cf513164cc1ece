#include "body/clip_landmarks.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>
#include <thread>

#include "body/clip_parts.hpp"
#include "body/company.hpp"
#include "body/join_parts.hpp"
#include "media/exact_reader.hpp"

namespace quarterturn::body {
namespace {

// A part only reads forward; a few pictures of cache are all it can use.
constexpr std::size_t cache_mib = 8;
// Further from the athlete's path than this, somebody else was followed.
constexpr double other_person = 0.6;

class NetworkReader final : public BodyReader {
  public:
    NetworkReader(PersonDetector detector, LandmarkNetwork landmarks)
        : detector_(std::move(detector)), landmarks_(std::move(landmarks)) {}
    Result<std::vector<Person>> find(const PictureView& picture) override { return detector_.find(picture); }
    Result<Reading> read(const PictureView& picture, const Region& region, bool with_mask) override {
        return landmarks_.read(picture, region, with_mask);
    }

  private:
    PersonDetector detector_;
    LandmarkNetwork landmarks_;
};

/// What one part gave.
struct PartOutcome {
    PartFrames frames;
    std::vector<Sighting> sightings;
    std::unique_ptr<PartObserver> observer;
    std::vector<std::string> warnings;
};

/// Shares out progress calls: one at a time, only forward, about a hundred in all.
class ProgressMeter {
  public:
    ProgressMeter(const std::function<void(double)>& report, std::size_t total) : report_(report), total_(total) {}
    void count_one() {
        if (!report_) return;
        const std::scoped_lock lock{mutex_};
        ++done_;
        const double share =
            std::min(1.0, static_cast<double>(done_) / static_cast<double>(std::max<std::size_t>(total_, 1)));
        if (share < reported_ + 0.01 && share < 1) return;
        reported_ = share;
        report_(share);
    }

  private:
    const std::function<void(double)>& report_;
    std::size_t total_;
    std::mutex mutex_;
    std::size_t done_ = 0;
    double reported_ = -1;
};

/// Everything the workers share.
struct Job {
    const std::filesystem::path& path;
    const media::FrameIndex& index;
    const Models& models;
    const LandmarkSettings& settings;
    std::stop_token stop;
    std::vector<std::size_t> sampled;
    std::vector<ClipPart> parts;
    ProgressMeter& progress;
    const media::ClipInfo& info;  ///< with the rotation in effect
};

Error cancelled() {
    return {ErrorCode::cancelled, "Stopped before the film was read to its end."};
}

LandmarkFrame frame_from(const Job& job, std::int64_t pts, const Tracked& tracked) {
    LandmarkFrame frame;
    frame.pts = pts;
    frame.t_s = seconds_between(job.index.pictures.front().pts, pts, job.index.time_base);
    frame.body = tracked.body;
    frame.region = tracked.region;
    frame.confidence = tracked.confidence;
    frame.held = tracked.held;
    return frame;
}

/// Reads the pictures of one part one after the other.
Status read_part(const Job& job, const ClipPart& part, BodyReader& networks, const std::optional<AthletePath>& athlete,
                 PartOutcome& out) {
    auto reader = media::ExactReader::open(job.path, {.threads = 1, .cache_mib = cache_mib}, job.index);
    if (!reader) return reader.error();
    Tracker tracker{networks, job.settings.tracker, athlete};
    const auto from = job.sampled.begin();
    if (auto status = reader->want_only(
            {from + static_cast<std::ptrdiff_t>(part.first), from + static_cast<std::ptrdiff_t>(part.end)});
        !status)
        return status;
    for (std::size_t i = part.first; i < part.end; ++i) {
        if (job.stop.stop_requested()) return cancelled();
        job.progress.count_one();
        const auto picture = reader->frame_of_rank(job.sampled[i]);
        if (!picture) continue;  // damaged here; counted below
        const PictureView view{*picture, job.info};
        if (out.observer) out.observer->skim(view);
        auto tracked =
            tracker.step(view, seconds_between(job.index.pictures.front().pts, picture->pts, job.index.time_base));
        if (!tracked) return tracked.error();
        if (i < part.hand_over) ++out.frames.warm_up;
        out.frames.frames.push_back(frame_from(job, picture->pts, *tracked));
        if (out.observer) out.observer->see({*picture, view, out.frames.frames.back(), tracked->mask});
        if (tracked->sighting && i >= part.hand_over) out.sightings.push_back(std::move(*tracked->sighting));
    }
    return ok();
}

/// Runs `which` parts on as many threads as asked for; parts are handed out in order, results kept by number.
Status read_parts(const Job& job, const std::vector<std::size_t>& which, const std::optional<AthletePath>& athlete,
                  std::vector<PartOutcome>& outcomes) {
    std::atomic<std::size_t> next{0};
    std::mutex mutex;
    std::optional<std::pair<std::size_t, Error>> failure;  // of the earliest part, so that it is always the same one
    const auto fail = [&](std::size_t number, const Error& error) {
        const std::scoped_lock lock{mutex};
        if (!failure || number < failure->first) failure.emplace(number, error);
    };
    const auto work = [&] {
        auto networks = make_body_reader(job.models);
        for (std::size_t turn = next++; turn < which.size(); turn = next++) {
            const std::size_t number = which[turn];
            if (!networks) return fail(number, networks.error());
            PartOutcome outcome;
            if (job.settings.observe) outcome.observer = job.settings.observe(number);
            const Status status = read_part(job, job.parts[number], **networks, athlete, outcome);
            if (!status) return fail(number, status.error());
            outcomes[number] = std::move(outcome);
        }
    };
    const int cores = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
    const auto threads = std::min<std::size_t>(
        static_cast<std::size_t>(job.settings.jobs > 0 ? job.settings.jobs : cores), which.size());
    {
        std::vector<std::jthread> helpers;
        for (std::size_t i = 1; i < threads; ++i) helpers.emplace_back(work);
        work();
    }
    return failure ? Status{failure->second} : ok();
}

/// Parts in which somebody else than the athlete was followed.
std::vector<std::size_t> led_astray(const AthletePath& path, const std::vector<PartOutcome>& outcomes) {
    std::vector<std::size_t> which;
    for (std::size_t number = 0; number < outcomes.size(); ++number) {
        const auto& frames = outcomes[number].frames.frames;
        const bool astray = std::any_of(path.stops.begin(), path.stops.end(), [&](const AthletePath::Stop& stop) {
            const auto frame = std::find_if(frames.begin(), frames.end(),
                                            [&](const LandmarkFrame& f) { return std::abs(f.t_s - stop.t_s) < 1e-6; });
            return frame != frames.end() && frame->region && unlikeness(*frame->region, stop.region) > other_person;
        });
        if (astray) which.push_back(number);
    }
    return which;
}

std::vector<Sighting> all_sightings(std::vector<PartOutcome>& outcomes) {
    std::vector<Sighting> all;
    for (PartOutcome& outcome : outcomes)
        std::move(outcome.sightings.begin(), outcome.sightings.end(), std::back_inserter(all));
    return all;
}

/// The whole clip decides who the athlete is; parts that followed somebody else are read again.
Result<std::vector<Sighting>> settle_athlete(const Job& job, std::vector<PartOutcome>& outcomes, double width,
                                             double height) {
    std::vector<Sighting> sightings = all_sightings(outcomes);
    const auto path = athlete_path(sightings, width, height, job.settings.athlete);
    if (!path) return sightings;
    const auto again = led_astray(*path, outcomes);
    if (again.empty()) return sightings;
    if (auto status = read_parts(job, again, path, outcomes); !status) return status.error();
    return sightings;
}

/// Several people, and none of them where the click is.
bool shown_in_vain(const std::vector<Sighting>& sightings, const LandmarkSettings& settings,
                   const media::ClipInfo& info) {
    const bool several = std::any_of(sightings.begin(), sightings.end(),
                                     [](const Sighting& sighting) { return sighting.people.size() > 1; });
    return several && settings.athlete &&
           !athlete_path(sightings, info.shown_width(), info.shown_height(), settings.athlete);
}

ClipLandmarks assembled(const Job& job, std::vector<PartOutcome>& outcomes, bool shown_in_vain) {
    ClipLandmarks clip;
    clip.series.model = name_of(job.models.size);
    clip.series.version = landmark_version();
    clip.series.rate_hz = job.settings.rate_hz;
    clip.series.time_base = job.index.time_base;
    clip.series.width = job.info.shown_width();
    clip.series.height = job.info.shown_height();
    clip.series.warnings = job.index.warnings;
    if (shown_in_vain)
        clip.series.warnings.emplace_back(
            "Nobody was seen where the athlete was shown; the program chose whom to follow. Show her in another "
            "picture.");
    std::vector<PartFrames> frames;
    for (std::size_t i = 0; i < outcomes.size(); ++i) {
        const ClipPart& part = job.parts[i];
        frames.push_back(std::move(outcomes[i].frames));
        if (!outcomes[i].observer) continue;
        clip.parts.push_back({job.index.pictures[job.sampled[part.hand_over]].pts,
                              job.index.pictures[job.sampled[part.end - 1]].pts, std::move(outcomes[i].observer)});
    }
    clip.series.frames = join_parts(frames);
    return clip;
}

}  // namespace

Result<std::unique_ptr<BodyReader>> make_body_reader(const Models& models) {
    auto detector = PersonDetector::create(models.detector);
    if (!detector) return detector.error();
    auto landmarks = LandmarkNetwork::create(models.landmarks);
    if (!landmarks) return landmarks.error();
    return std::unique_ptr<BodyReader>{
        std::make_unique<NetworkReader>(std::move(detector).value(), std::move(landmarks).value())};
}

Result<ClipLandmarks> clip_landmarks(const std::filesystem::path& path, const media::FrameIndex& index,
                                     const Models& models, const LandmarkSettings& settings, std::stop_token stop) {
    if (index.pictures.empty()) return Error{ErrorCode::bad_input, "The film holds no pictures."};
    if (!(settings.rate_hz > 0)) return Error{ErrorCode::bad_input, "The rate must be above 0 pictures per second."};
    const auto probed = media::probe(path);
    if (!probed) return probed.error();
    const media::ClipInfo info = probed->turned_to(settings.rotation_deg);
    auto sampled = sampled_ranks(index, settings.rate_hz);
    auto parts = plan_parts(index, sampled);
    ProgressMeter progress{settings.progress, sampled.size()};
    const Job job{path, index, models, settings, std::move(stop), std::move(sampled), std::move(parts), progress, info};
    std::vector<PartOutcome> outcomes(job.parts.size());
    std::vector<std::size_t> all(job.parts.size());
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
    if (auto status = read_parts(job, all, std::nullopt, outcomes); !status) return status.error();
    auto sightings = settle_athlete(job, outcomes, info.shown_width(), info.shown_height());
    if (!sightings) return sightings.error();
    ClipLandmarks clip = assembled(job, outcomes, shown_in_vain(*sightings, settings, info));
    if (clip.series.frames.empty()) {
        return Error{ErrorCode::bad_input,
                     "No picture of the film can be read; copy it again from the phone if you can."};
    }
    mark_company(clip.series.frames, *sightings);
    clip.sightings = std::move(sightings).value();
    return clip;
}

}  // namespace quarterturn::body
