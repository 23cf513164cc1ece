#pragma once
/// The thread that owns the open library: saves edits within a second, and notices what other programs change in it.
/// An edit that the disk does not take (full, read-only, unplugged) waits with all that come after it and is tried
/// again; meanwhile SaveWaits is in the news, and SaveDone once nothing waits any more.
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
    /// @param try_again  how long to wait before trying to save again
    explicit LibraryKeeper(NewsBox& news, std::chrono::milliseconds try_again = std::chrono::milliseconds(2000));
    ~LibraryKeeper();  ///< saves what is still waiting, trying once
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
    void keep_for_later(std::vector<Pending> edits, const Error& error);
    /// The disk may take it later: nothing is wrong with the edit itself.
    [[nodiscard]] bool may_pass(const Error& error) const;
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
    std::chrono::milliseconds try_again_;
    std::vector<Pending> held_;  // the disk did not take them
    bool trouble_told_ = false;
    std::chrono::steady_clock::time_point next_try_;
    std::jthread thread_;
};

}  // namespace quarterturn::app
