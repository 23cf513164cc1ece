// A film may be damaged, cut, or made to do harm: every reader must end with pictures or a plain sentence.
#include <sys/mman.h>
#include <unistd.h>

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <string>

#include "media/exact_reader.hpp"
#include "media/image.hpp"
#include "media/linear_reader.hpp"

namespace {

using namespace quarterturn;
using namespace quarterturn::media;

/// The input as a file that exists in memory only.
class MemoryFile {
  public:
    MemoryFile(const std::uint8_t* data, std::size_t size) : descriptor_(::memfd_create("clip", MFD_CLOEXEC)) {
        if (descriptor_ < 0 || ::write(descriptor_, data, size) != static_cast<ssize_t>(size)) std::abort();
    }
    MemoryFile(const MemoryFile&) = delete;
    MemoryFile& operator=(const MemoryFile&) = delete;
    ~MemoryFile() { ::close(descriptor_); }
    [[nodiscard]] std::filesystem::path path() const { return "/proc/self/fd/" + std::to_string(descriptor_); }

  private:
    int descriptor_;
};

constexpr int enough_pictures = 12;
/// Larger pictures are decoded by the same code, only slower.
constexpr std::int64_t enough_samples = 1 << 20;

void read_in_order(const std::filesystem::path& path) {
    auto reader = LinearReader::open(path, {1});
    if (!reader) return;
    for (int i = 0; i < enough_pictures; ++i) {
        const auto picture = reader->next();
        if (!picture || !*picture) break;
        (void)to_rgb(**picture, reader->info(), 48);
        (void)to_grey(**picture, reader->info(), 48);
    }
    (void)reader->warnings();
}

void read_out_of_order(const std::filesystem::path& path, FrameIndex index) {
    const std::size_t last = index.pictures.size() - 1;
    auto reader = ExactReader::open(path, {.threads = 1, .cache_mib = 1}, std::move(index));
    if (!reader) return;
    for (const std::size_t rank : {last, last / 2, std::size_t{0}}) {
        const auto picture = reader->frame_of_rank(rank);
        if (picture && picture->pts != reader->index().pictures[rank].pts) std::abort();
    }
    (void)reader->next();
    (void)reader->previous();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const MemoryFile file{data, size};
    const auto info = probe(file.path());
    if (!info) return info.error().detail.empty() ? (std::abort(), 0) : 0;
    if (std::int64_t{info->width} * info->height > enough_samples) return 0;
    read_in_order(file.path());
    auto index = build_index(file.path());
    if (index) read_out_of_order(file.path(), std::move(index).value());
    return 0;
}
