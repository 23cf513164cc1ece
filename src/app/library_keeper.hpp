#pragma once
/// The thread that owns the open library: saves edits within a second, and notices what other programs change in it.
#include <chrono>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>
#include <variant>

#include "app/news.hpp"
#include "app/saver.hpp"

namespace quarterturn::app {

/// Adjacent edits of the same note (typing) become one: the first one's before, the last one's after.
[[nodiscard]] std::vector<Pending> gathered(std::vector<Pending> edits);

class LibraryKeeper {
  public:
    explicit LibraryKeeper(NewsBox& news);
    ~LibraryKeeper();  ///< saves what is still waiting
    LibraryKeeper(const LibraryKeeper&) = delete;
    LibraryKeeper& operator=(const LibraryKeeper&) = delete;

    void open(const std::filesystem::path& folder);
    void create(const std::filesystem::path& folder, const std::string& title, const journal::Author& author);
    void save(Pending edit, const journal::Author& author);
    /// Reads the library again now: a job has changed it. `then` is called after the news of it.
    void refresh(std::function<void()> then = {});

  private:
    struct Open {
        std::filesystem::path folder;
        bool make = false;
        std::string title;
        journal::Author author;
    };
    void run(const std::stop_token& stop);
    void open_now(const Open& open);
    void save_now(std::vector<Pending> edits, const journal::Author& author);
    void read_now(bool opened);

    NewsBox& news_;
    std::mutex mutex_;
    std::condition_variable_any changed_;
    std::optional<Open> to_open_;
    std::vector<Pending> to_save_;
    journal::Author author_;
    std::chrono::steady_clock::time_point first_waiting_, last_waiting_;
    bool refresh_ = false;
    std::vector<std::function<void()>> then_;

    // Only the thread touches these.
    std::optional<Saver> saver_;
    std::filesystem::path folder_;
    std::uint64_t revision_ = 0, saved_up_to_ = 0;
    std::jthread thread_;
};

}  // namespace quarterturn::app
