#include "journal/store_state.hpp"

#include <chrono>

#include "journal/writer_id.hpp"

namespace quarterturn::journal {

Instant Store::State::now() {
    return std::chrono::time_point_cast<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

const std::string& Store::State::writer() {
    const std::scoped_lock guard{mutex_};
    if (writer_.empty()) writer_ = writer_id(folder);
    return writer_;
}

/// Removes what a program that was killed left half written. Safe under the lock: nobody is writing there now.
void Store::State::sweep() {
    std::error_code failure;
    std::filesystem::recursive_directory_iterator entry{folder / "journal", failure};
    while (!failure && entry != std::filesystem::recursive_directory_iterator{}) {
        const std::filesystem::path path = entry->path();
        const std::string name = path.filename().string();
        entry.increment(failure);
        if (name.starts_with('.') && name.ends_with(".part")) {
            std::error_code ignored;
            std::filesystem::remove(path, ignored);
        }
    }
}

Result<FileLock> Store::State::lock() {
    auto held = FileLock::acquire(folder / "lock");
    if (!held) return held;
    const std::scoped_lock guard{mutex_};
    if (!swept_) sweep();
    swept_ = true;
    return held;
}

}  // namespace quarterturn::journal
