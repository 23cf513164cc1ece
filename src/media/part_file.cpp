#include "media/part_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <utility>

#include "base/file.hpp"
#include "base/id.hpp"

namespace quarterturn::media {
namespace fs = std::filesystem;

namespace {

/// 0, or errno.
int flush_to_disk(const fs::path& path, int flags) {
    const int descriptor = ::open(path.c_str(), flags | O_CLOEXEC);
    if (descriptor < 0) return errno;
    const int result = ::fsync(descriptor) == 0 ? 0 : errno;
    ::close(descriptor);
    return result;
}

fs::path folder_of(const fs::path& path) {
    return path.has_parent_path() ? path.parent_path() : fs::path{"."};
}

}  // namespace

Result<PartFile> PartFile::create(const fs::path& path) {
    fs::path part = folder_of(path) / fmt::format(".{}.{}.part", path.filename().string(), new_id());
    const int descriptor = ::open(part.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, S_IRUSR | S_IWUSR);
    if (descriptor < 0) return system_error(errno, "write", path);
    ::close(descriptor);
    return PartFile{std::move(part), path};
}

PartFile::PartFile(PartFile&& other) noexcept
    : part_(std::exchange(other.part_, {})), final_(std::exchange(other.final_, {})) {}

PartFile& PartFile::operator=(PartFile&& other) noexcept {
    std::swap(part_, other.part_);
    std::swap(final_, other.final_);
    return *this;
}

PartFile::~PartFile() {
    if (!part_.empty()) ::unlink(part_.c_str());
}

Status PartFile::publish() {
    if (const int failure = flush_to_disk(part_, O_WRONLY); failure != 0) return system_error(failure, "write", final_);
    if (::rename(part_.c_str(), final_.c_str()) != 0) return system_error(errno, "write", final_);
    part_.clear();
    // Some file systems cannot flush a folder; the rename itself has happened.
    (void)flush_to_disk(folder_of(final_), O_RDONLY | O_DIRECTORY);
    return ok();
}

}  // namespace quarterturn::media
