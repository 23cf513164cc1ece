#include "cli/measure_clips.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <mutex>
#include <set>
#include <thread>

#include "cli/progress_line.hpp"
#include "share/library_views.hpp"
#include "share/measure_method.hpp"

namespace quarterturn::cli {

Result<MeasuredClips> measure_clips(journal::Store& store, const journal::Library& library,
                                    const std::vector<const journal::Clip*>& clips,
                                    const share::MeasureSettings& settings, int jobs) {
    ProgressLine line;
    MeasuredClips outcome;
    std::optional<Error> ended;
    std::mutex mutex;
    std::atomic<std::size_t> next{0};
    std::size_t done = 0;

    const auto work = [&] {
        share::MeasureSettings one = settings;
        one.jobs = 1;  // whole clips are spread over the cores, which wastes less than parts of one
        for (std::size_t i = next++; i < clips.size(); i = next++) {
            const auto analysis = share::measure_clip(store, library, *clips[i], one);
            const std::scoped_lock lock{mutex};
            line.show(static_cast<double>(++done) / static_cast<double>(clips.size()), clips[i]->original_name);
            if (analysis) continue;
            const ErrorCode code = analysis.error().code;
            if (code == ErrorCode::cancelled || code == ErrorCode::missing_part) {
                ended = analysis.error();
                return;
            }
            outcome.failures.push_back(fmt::format("{}: {}", clips[i]->original_name, analysis.error().detail));
        }
    };
    {
        const auto cores = std::max(1U, std::thread::hardware_concurrency());
        const auto count = std::min<std::size_t>(jobs > 0 ? static_cast<std::size_t>(jobs) : cores, clips.size());
        std::vector<std::jthread> workers;
        for (std::size_t i = 0; i < count; ++i) workers.emplace_back(work);
    }
    if (ended) return *ended;
    std::set<std::string> sessions;
    for (const journal::Clip* clip : clips) sessions.insert(clip->session);
    for (const auto& session : sessions) {
        // A library for reading only has no marks of the program; everything else works.
        const Status kept = share::keep_measured_marks(store, session, settings);
        if (!kept && kept.error().code != ErrorCode::no_permission) return kept.error();
    }
    return outcome;
}

void say_if_model_is_missing(const share::MeasureSettings& settings) {
    const auto method = share::method_for(settings);
    if (settings.method || !method || *method == posing::Method::landmarks) return;
    fmt::print(stderr,
               "quarterturn: the landmark model is not installed, so holds are measured from motion alone; "
               "third_party/setup.sh fetches it.\n");
}

}  // namespace quarterturn::cli
