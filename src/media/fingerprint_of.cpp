#include "media/fingerprint_of.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <new>
#include <vector>

#include "base/file.hpp"
#include "media/libav.hpp"

namespace quarterturn::media {
namespace {

constexpr std::size_t block_bytes = 1U << 20U;
constexpr std::size_t digest_bytes = 32;

class OpenFile {
  public:
    explicit OpenFile(const std::filesystem::path& path)
        : descriptor_(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK)) {}
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;
    ~OpenFile() {
        if (descriptor_ >= 0) ::close(descriptor_);
    }
    [[nodiscard]] int descriptor() const { return descriptor_; }

  private:
    int descriptor_;
};

HashPtr new_sha256() {
    AVHashContext* raw = nullptr;
    if (av_hash_alloc(&raw, "SHA256") < 0) throw std::bad_alloc{};
    av_hash_init(raw);
    return HashPtr{raw};
}

}  // namespace

Result<std::string> fingerprint_of(const std::filesystem::path& path, std::stop_token stop) {
    const OpenFile file{path};
    if (file.descriptor() < 0) return system_error(errno, "read", path);
    struct stat facts {};
    if (::fstat(file.descriptor(), &facts) != 0) return system_error(errno, "read", path);
    if (!S_ISREG(facts.st_mode))
        return Error{ErrorCode::bad_input, fmt::format("{} is not a file; choose a film.", path.string())};
    const HashPtr hash = new_sha256();
    std::vector<std::uint8_t> block(block_bytes);
    for (;;) {
        if (stop.stop_requested())
            return Error{ErrorCode::cancelled, fmt::format("Reading {} was stopped.", path.string())};
        const ssize_t count = ::read(file.descriptor(), block.data(), block.size());
        if (count < 0 && errno == EINTR) continue;
        if (count < 0) return system_error(errno, "read", path);
        if (count == 0) break;
        av_hash_update(hash.get(), block.data(), static_cast<std::size_t>(count));
    }
    std::array<std::uint8_t, digest_bytes> digest{};
    av_hash_final_bin(hash.get(), digest.data(), static_cast<int>(digest.size()));
    std::string text = "sha256:";
    for (const std::uint8_t byte : digest) text += fmt::format("{:02x}", byte);
    return text;
}

}  // namespace quarterturn::media
