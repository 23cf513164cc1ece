#include "app/library_keeper.hpp"

namespace quarterturn::app {
namespace {

using namespace std::chrono_literals;

// Typing is saved when it rests, and at the latest this long after its first letter.
constexpr auto rest = 250ms;
constexpr auto latest = 700ms;
constexpr auto look_around = 500ms;

bool continues(const Edit& first, const Edit& second) {
    if (first.changes.size() != 1 || second.changes.size() != 1) return false;
    const auto* a = std::get_if<EntryChange<journal::Note>>(&first.changes[0]);
    const auto* b = std::get_if<EntryChange<journal::Note>>(&second.changes[0]);
    return a != nullptr && b != nullptr && a->after && b->before && b->after && a->after->id == b->after->id;
}

}  // namespace

std::vector<Pending> gathered(std::vector<Pending> edits) {
    std::vector<Pending> result;
    for (Pending& pending : edits) {
        if (result.empty() || !continues(result.back().edit, pending.edit)) {
            result.push_back(std::move(pending));
            continue;
        }
        auto& first = std::get<EntryChange<journal::Note>>(result.back().edit.changes[0]);
        first.after = std::get<EntryChange<journal::Note>>(pending.edit.changes[0]).after;
        result.back().number = pending.number;
    }
    return result;
}

LibraryKeeper::LibraryKeeper(NewsBox& news, std::chrono::milliseconds try_again)
    : news_(news), try_again_(try_again), thread_([this](const std::stop_token& stop) { run(stop); }) {}

LibraryKeeper::~LibraryKeeper() {
    thread_.request_stop();
    thread_.join();
}

void LibraryKeeper::open(const std::filesystem::path& folder) {
    const std::lock_guard lock(mutex_);
    to_open_ = Open{folder, false, {}, {}};
    changed_.notify_all();
}

void LibraryKeeper::create(const std::filesystem::path& folder, const std::string& title,
                           const journal::Author& author) {
    const std::lock_guard lock(mutex_);
    to_open_ = Open{folder, true, title, author};
    changed_.notify_all();
}

void LibraryKeeper::save(Pending edit, const journal::Author& author) {
    const std::lock_guard lock(mutex_);
    last_waiting_ = std::chrono::steady_clock::now();
    if (to_save_.empty()) first_waiting_ = last_waiting_;
    to_save_.push_back(std::move(edit));
    author_ = author;
    changed_.notify_all();
}

void LibraryKeeper::refresh(std::function<void()> then) {
    const std::lock_guard lock(mutex_);
    if (then) then_.push_back(std::move(then));
    refresh_ = true;
    changed_.notify_all();
}

void LibraryKeeper::run(const std::stop_token& stop) {
    while (true) {
        std::optional<Open> open;
        std::vector<Pending> edits;
        journal::Author author;
        bool refresh = false;
        std::vector<std::function<void()>> then;
        {
            std::unique_lock lock(mutex_);
            changed_.wait_for(lock, stop, held_.empty() ? look_around : std::min(look_around, try_again_),
                              [&] { return to_open_ || refresh_ || !to_save_.empty(); });
            while (!to_save_.empty() && !to_open_ && !stop.stop_requested()) {
                const auto until = std::min(last_waiting_ + rest, first_waiting_ + latest);
                if (std::chrono::steady_clock::now() >= until) break;
                changed_.wait_until(lock, stop, until, [&] { return to_open_.has_value(); });
            }
            edits = std::exchange(to_save_, {});
            open = std::exchange(to_open_, std::nullopt);
            refresh = std::exchange(refresh_, false);
            author = author_;
            then = std::exchange(then_, {});
        }
        const bool last_chance = stop.stop_requested() || open.has_value();
        if (!held_.empty() && (!edits.empty() || last_chance || std::chrono::steady_clock::now() >= next_try_)) {
            held_.insert(held_.end(), edits.begin(), edits.end());
            edits = std::exchange(held_, {});
        }
        if (!edits.empty() && saver_)
            save_now(gathered(std::move(edits)), author);
        else if (saver_ && !open && (refresh || saver_->revision() != revision_))
            read_now(false);
        for (const auto& call : then) call();
        if (stop.stop_requested()) return;
        if (open && !held_.empty())
            news_.post(Said{"Another library can be opened once the last changes to this one are on disk.", true});
        else if (open)
            open_now(*open);
    }
}

void LibraryKeeper::open_now(const Open& open) {
    auto store =
        open.make ? journal::Store::create(open.folder, open.title, open.author) : journal::Store::open(open.folder);
    if (!store) {
        news_.post(Said{store.error().detail, true});
        return;
    }
    saver_.emplace(std::move(*store));
    folder_ = open.folder;
    read_now(true);
}

bool LibraryKeeper::may_pass(const Error& error) const {
    std::error_code failure;
    switch (error.code) {
        case ErrorCode::no_space:
        case ErrorCode::no_permission:
        case ErrorCode::io:
            return true;
        case ErrorCode::not_found:  // the whole library is away: a drive that was pulled out
            return !std::filesystem::exists(folder_ / "library.json", failure);
        default:
            return false;
    }
}

void LibraryKeeper::keep_for_later(std::vector<Pending> edits, const Error& error) {
    held_ = std::move(edits);
    next_try_ = std::chrono::steady_clock::now() + try_again_;
    trouble_told_ = true;
    news_.post(SaveWaits{error});
}

void LibraryKeeper::save_now(std::vector<Pending> edits, const journal::Author& author) {
    for (std::size_t i = 0; i < edits.size(); ++i) {
        Pending& pending = edits[i];
        std::vector<Saver::NewName> names;
        std::size_t stored = 0;
        const Status saved = saver_->save(pending.edit, author, names, &stored);
        for (const auto& name : names) news_.post(Renamed{name.from, name.to});
        if (!saved && may_pass(saved.error())) {
            auto& changes = pending.edit.changes;
            changes.erase(changes.begin(), changes.begin() + static_cast<std::ptrdiff_t>(stored));
            edits.erase(edits.begin(), edits.begin() + static_cast<std::ptrdiff_t>(i));
            keep_for_later(std::move(edits), saved.error());
            return read_now(false);
        }
        if (!saved) news_.post(SaveFailed{pending.number, saved.error()});
        saved_up_to_ = pending.number;
    }
    if (std::exchange(trouble_told_, false)) news_.post(SaveDone{});
    read_now(false);
}

void LibraryKeeper::read_now(bool opened) {
    revision_ = saver_->revision();
    auto library = saver_->read();
    if (!library) {
        if (held_.empty()) news_.post(Said{library.error().detail, true});
        return;
    }
    news_.post(LibraryRead{folder_, std::move(*library), saved_up_to_, opened});
}

}  // namespace quarterturn::app
