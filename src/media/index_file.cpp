/// Layout, all numbers little-endian:
///   "QTINDEX" + version byte
///   varints: time base num, den; flags (1 complete, 2 timed packets); number of warnings, each length + bytes
///   varint: number of pictures; then per picture, in presentation order, signed varints: pts minus the last pts, dts
///   minus pts, position minus the last position, order minus rank; then the key flag as a byte CRC-32 of everything
///   before, 4 bytes
#include "media/index_file.hpp"

extern "C" {
#include <libavutil/crc.h>
}

#include "media/frame_index.hpp"

namespace quarterturn::media {
namespace {

constexpr std::string_view mark = "QTINDEX";
constexpr std::uint8_t version = 1;
constexpr std::size_t seal_bytes = 4;
constexpr std::uint64_t complete_flag = 1;
constexpr std::uint64_t timed_flag = 2;
/// Timestamps beyond this are damage; differences of those within it cannot overflow.
constexpr std::int64_t furthest_pts = std::int64_t{1} << 61U;
/// A picture takes at least this many bytes, which bounds the count a damaged file can claim.
constexpr std::size_t least_bytes_per_picture = 5;

std::uint32_t crc_of(std::string_view bytes) {
    return ~av_crc(av_crc_get_table(AV_CRC_32_IEEE_LE), UINT32_MAX, reinterpret_cast<const std::uint8_t*>(bytes.data()),
                   bytes.size());
}

void put(std::string& out, std::uint64_t value) {
    for (; value >= 0x80U; value >>= 7U) out += static_cast<char>(value | 0x80U);
    out += static_cast<char>(value);
}

/// Small numbers of either sign in few bytes. Differences wrap around instead of overflowing.
void put_difference(std::string& out, std::int64_t value, std::int64_t base) {
    const std::uint64_t difference = static_cast<std::uint64_t>(value) - static_cast<std::uint64_t>(base);
    put(out, (difference << 1U) ^ (difference >> 63U != 0 ? UINT64_MAX : 0));
}

/// Reads what put() wrote; after a failure everything is 0 and failed() is true.
class Parser {
  public:
    explicit Parser(std::string_view bytes) : rest_(bytes) {}
    std::uint64_t number() {
        std::uint64_t value = 0;
        for (unsigned shift = 0; shift < 64 && !rest_.empty(); shift += 7) {
            const auto byte = static_cast<std::uint8_t>(rest_.front());
            rest_.remove_prefix(1);
            value |= std::uint64_t{byte & 0x7FU} << shift;
            if ((byte & 0x80U) == 0) return value;
        }
        failed_ = true;
        return 0;
    }
    std::int64_t difference(std::int64_t base) {
        const std::uint64_t folded = number();
        const std::uint64_t difference = (folded >> 1U) ^ ((folded & 1U) != 0 ? UINT64_MAX : 0);
        return static_cast<std::int64_t>(static_cast<std::uint64_t>(base) + difference);
    }
    std::string_view text(std::uint64_t size) {
        if (size > rest_.size()) failed_ = true;
        if (failed_) return {};
        const std::string_view text = rest_.substr(0, size);
        rest_.remove_prefix(size);
        return text;
    }
    [[nodiscard]] bool failed() const { return failed_; }
    [[nodiscard]] std::size_t left() const { return rest_.size(); }

  private:
    std::string_view rest_;
    bool failed_ = false;
};

Error damaged() {
    return {ErrorCode::bad_input, "The kept index of this film is damaged; it is made anew."};
}

bool is_permutation(const std::vector<IndexEntry>& pictures) {
    std::vector<bool> seen(pictures.size(), false);
    for (const IndexEntry& entry : pictures) {
        if (entry.order >= seen.size() || seen[entry.order]) return false;
        seen[entry.order] = true;
    }
    return true;
}

bool read_head(Parser& parser, FrameIndex& index) {
    index.time_base = {static_cast<std::int64_t>(parser.number()), static_cast<std::int64_t>(parser.number())};
    const std::uint64_t flags = parser.number();
    index.complete = (flags & complete_flag) != 0;
    index.timed_packets = (flags & timed_flag) != 0;
    for (std::uint64_t left = parser.number(); left > 0 && !parser.failed(); --left)
        index.warnings.emplace_back(parser.text(parser.number()));
    const auto sensible = [](std::int64_t value) { return value > 0 && value <= INT32_MAX; };
    return !parser.failed() && sensible(index.time_base.num) && sensible(index.time_base.den);
}

bool read_pictures(Parser& parser, FrameIndex& index) {
    const std::uint64_t count = parser.number();
    if (parser.failed() || count > parser.left() / least_bytes_per_picture) return false;
    index.pictures.resize(count);
    std::int64_t last_pts = 0;
    std::int64_t last_position = 0;
    for (std::size_t rank = 0; rank < count; ++rank) {
        IndexEntry& entry = index.pictures[rank];
        entry.pts = parser.difference(last_pts);
        entry.dts = parser.difference(entry.pts);
        entry.position = parser.difference(last_position);
        const std::int64_t order = parser.difference(static_cast<std::int64_t>(rank));
        const std::string_view key = parser.text(1);
        const bool sensible = entry.pts > -furthest_pts && entry.pts < furthest_pts &&
                              (rank == 0 || entry.pts > last_pts) && order >= 0 &&
                              order < static_cast<std::int64_t>(count);
        if (parser.failed() || !sensible) return false;
        entry.order = static_cast<std::uint32_t>(order);
        entry.key = key[0] != 0;
        last_pts = entry.pts;
        last_position = entry.position;
    }
    return parser.left() == 0 && is_permutation(index.pictures);
}

}  // namespace

std::string sealed(std::string body) {
    const std::uint32_t crc = crc_of(body);
    for (unsigned shift = 0; shift < 32; shift += 8) body += static_cast<char>((crc >> shift) & 0xFFU);
    return body;
}

std::string save_index(const FrameIndex& index) {
    std::string out{mark};
    out += static_cast<char>(version);
    put(out, static_cast<std::uint64_t>(index.time_base.num));
    put(out, static_cast<std::uint64_t>(index.time_base.den));
    put(out, (index.complete ? complete_flag : 0) | (index.timed_packets ? timed_flag : 0));
    put(out, index.warnings.size());
    for (const std::string& warning : index.warnings) {
        put(out, warning.size());
        out += warning;
    }
    put(out, index.pictures.size());
    std::int64_t last_pts = 0;
    std::int64_t last_position = 0;
    for (std::size_t rank = 0; rank < index.pictures.size(); ++rank) {
        const IndexEntry& entry = index.pictures[rank];
        put_difference(out, entry.pts, last_pts);
        put_difference(out, entry.dts, entry.pts);
        put_difference(out, entry.position, last_position);
        put_difference(out, entry.order, static_cast<std::int64_t>(rank));
        out += static_cast<char>(entry.key ? 1 : 0);
        last_pts = entry.pts;
        last_position = entry.position;
    }
    return sealed(std::move(out));
}

Result<FrameIndex> load_index(std::string_view bytes) {
    if (bytes.size() < mark.size() + 1 + seal_bytes || !bytes.starts_with(mark)) return damaged();
    const std::string_view body = bytes.substr(0, bytes.size() - seal_bytes);
    const auto found = static_cast<std::uint8_t>(body[mark.size()]);
    if (found > version)
        return Error{ErrorCode::newer_version,
                     "The kept index of this film was written by a newer version of the program."};
    if (found != version || sealed(std::string{body}) != bytes) return damaged();
    Parser parser{body.substr(mark.size() + 1)};
    FrameIndex index;
    if (!read_head(parser, index) || !read_pictures(parser, index)) return damaged();
    return index;
}

}  // namespace quarterturn::media
