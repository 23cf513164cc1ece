#include "media/background_index.hpp"

#include <chrono>

namespace quarterturn::media {

BackgroundIndex::BackgroundIndex(const std::filesystem::path& path) {
    std::promise<Result<FrameIndex>> promise;
    result_ = promise.get_future();
    worker_ = std::jthread{[path, promise = std::move(promise)](const std::stop_token& stop) mutable {
        promise.set_value(build_index(path, stop));
    }};
}

std::optional<Result<FrameIndex>> BackgroundIndex::take_if_ready() {
    if (!result_.valid() || result_.wait_for(std::chrono::seconds{0}) != std::future_status::ready) return std::nullopt;
    return result_.get();
}

std::optional<Result<FrameIndex>> BackgroundIndex::wait() {
    if (!result_.valid()) return std::nullopt;
    return result_.get();
}

}  // namespace quarterturn::media
