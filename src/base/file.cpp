#include "base/file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <utility>

#include "base/id.hpp"

namespace quarterturn {
namespace {

namespace fs = std::filesystem;

/// Owns a file descriptor.
class Descriptor {
  public:
    explicit Descriptor(int value) : value_(value) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (value_ >= 0) ::close(value_);
    }
    [[nodiscard]] int get() const { return value_; }
    [[nodiscard]] bool valid() const { return value_ >= 0; }
    /// Closing can report a delayed write error, so the last close is checked.
    [[nodiscard]] bool close() { return ::close(std::exchange(value_, -1)) == 0; }

  private:
    int value_;
};

bool write_all(int descriptor, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

/// Makes a rename survive a power cut. Some file systems cannot flush a folder; the rename itself has happened.
void flush_folder(const fs::path& folder) {
    const Descriptor directory{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
    if (directory.valid()) (void)::fsync(directory.get());
}

}  // namespace

Error system_error(int error_number, std::string_view action, const fs::path& path) {
    const std::string where = path.string();
    switch (error_number) {
        case ENOENT:
        case ENOTDIR:
            return {ErrorCode::not_found, fmt::format("Cannot {} {}: there is no such file or folder.", action, where)};
        case EACCES:
        case EPERM:
        case EROFS:
            return {
                ErrorCode::no_permission,
                fmt::format("Cannot {} {}: no permission. Check who owns it, or use another folder.", action, where)};
        case ENOSPC:
        case EDQUOT:
            return {ErrorCode::no_space,
                    fmt::format("Cannot {} {}: the disk is full. Free some space and try again.", action, where)};
        case EISDIR:
            return {ErrorCode::bad_input, fmt::format("Cannot {} {}: it is a folder; name a file.", action, where)};
        case EEXIST:
            return {ErrorCode::conflict, fmt::format("Cannot {} {}: it exists already.", action, where)};
        default:
            return {ErrorCode::io, fmt::format("Cannot {} {}: {}.", action, where, std::strerror(error_number))};
    }
}

Result<std::string> read_file(const fs::path& path, std::uint64_t limit) {
    const Descriptor file{::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
    if (!file.valid()) return system_error(errno, "read", path);
    struct stat facts {};
    if (::fstat(file.get(), &facts) != 0) return system_error(errno, "read", path);
    if (S_ISDIR(facts.st_mode))
        return Error{ErrorCode::bad_input, fmt::format("{} is a folder, not a file.", path.string())};
    std::string bytes;
    std::array<char, 1U << 16U> block{};
    for (;;) {
        const ssize_t count = ::read(file.get(), block.data(), block.size());
        if (count < 0 && errno == EINTR) continue;
        if (count < 0) return system_error(errno, "read", path);
        if (count == 0) return bytes;
        bytes.append(block.data(), static_cast<std::size_t>(count));
        if (bytes.size() > limit)
            return Error{ErrorCode::bad_input, fmt::format("{} is larger than the {} MiB expected of such a file.",
                                                           path.string(), limit >> 20U)};
    }
}

Status write_file(const fs::path& path, std::string_view bytes) {
    const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path{"."};
    const fs::path fresh = folder / fmt::format(".{}.{}.part", path.filename().string(), new_id());
    Descriptor file{::open(fresh.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, S_IRUSR | S_IWUSR)};
    if (!file.valid()) return system_error(errno, "write", path);
    const bool done = write_all(file.get(), bytes) && ::fsync(file.get()) == 0 && file.close() &&
                      ::rename(fresh.c_str(), path.c_str()) == 0;
    if (!done) {
        const Error error = system_error(errno, "write", path);
        ::unlink(fresh.c_str());
        return error;
    }
    flush_folder(folder);
    return ok();
}

Status make_folder(const fs::path& path) {
    std::error_code failure;
    if (fs::is_directory(path, failure)) return ok();
    if (fs::exists(path, failure))
        return Error{ErrorCode::conflict, fmt::format("{} is a file; a folder is needed there.", path.string())};
    if (path.has_parent_path() && path.parent_path() != path) {
        if (Status parent = make_folder(path.parent_path()); !parent) return parent;
    }
    if (::mkdir(path.c_str(), S_IRWXU) != 0 && errno != EEXIST) return system_error(errno, "create", path);
    return ok();
}

Result<FileLock> FileLock::acquire(const fs::path& path) {
    const int descriptor = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, S_IRUSR | S_IWUSR);
    if (descriptor < 0) return system_error(errno, "lock", path);
    FileLock lock{descriptor};
    while (::flock(descriptor, LOCK_EX) != 0) {
        if (errno != EINTR) return system_error(errno, "lock", path);
    }
    return lock;
}

FileLock::FileLock(FileLock&& other) noexcept : descriptor_(std::exchange(other.descriptor_, -1)) {}

FileLock& FileLock::operator=(FileLock&& other) noexcept {
    std::swap(descriptor_, other.descriptor_);
    return *this;
}

FileLock::~FileLock() {
    if (descriptor_ >= 0) ::close(descriptor_);
}

}  // namespace quarterturn
