#pragma once
/// Checked reading of a FlatBuffer without a schema: every access is verified against the buffer first. A failed check
/// is remembered and every later read gives zero or nothing, so that one test of `sound()` at the end is enough.
#include <flatbuffers/flatbuffers.h>

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace quarterturn::body {

class FlatReader {
  public:
    /// @param bytes 8-byte aligned, must outlive the reader and everything read through it
    explicit FlatReader(std::span<const std::uint8_t> bytes) : bytes_(bytes), verifier_(bytes.data(), bytes.size()) {}
    FlatReader(const FlatReader&) = delete;
    FlatReader& operator=(const FlatReader&) = delete;

    [[nodiscard]] bool sound() const { return sound_; }
    void fail() { sound_ = false; }

    template <class T>
    [[nodiscard]] T read(std::size_t at) {
        if (!check(verifier_.Verify<T>(at))) return T{};
        return flatbuffers::ReadScalar<T>(bytes_.data() + at);
    }

    /// The bytes [at, at + length), empty when they are not all inside.
    [[nodiscard]] std::span<const std::uint8_t> range(std::size_t at, std::size_t length) {
        if (length == 0 || !check(verifier_.Verify(at, length))) return {};
        return bytes_.subspan(at, length);
    }

    /// Accounts for a list about to be copied. A damaged file can name one long list many times over; an honest one
    /// refers to each list about once.
    [[nodiscard]] bool afford(std::size_t bytes) {
        spent_ += bytes;
        return check(spent_ <= 8 * bytes_.size() + (std::size_t{1} << 20U));
    }

    /// Where the offset stored at `at` leads.
    [[nodiscard]] std::optional<std::size_t> follow(std::size_t at) {
        if (!sound_) return std::nullopt;
        const auto distance = verifier_.VerifyOffset(at);
        if (!check(distance != 0)) return std::nullopt;
        return at + distance;
    }

  private:
    [[nodiscard]] bool check(bool passed) {
        sound_ = sound_ && passed;
        return sound_;
    }

    std::span<const std::uint8_t> bytes_;
    flatbuffers::Verifier verifier_;
    std::size_t spent_ = 0;
    bool sound_ = true;
};

/// One table; fields are known by their number in the format's published schema. Absent fields give the fallback.
class FlatTable {
  public:
    FlatTable(FlatReader& reader, std::size_t at) : reader_(&reader), at_(at) {}

    template <class T>
    [[nodiscard]] T scalar(int field, T fallback) const {
        const auto where = find(field);
        return where ? reader_->read<T>(*where) : fallback;
    }

    [[nodiscard]] std::optional<FlatTable> table(int field) const {
        const auto where = pointed(field);
        if (!where) return std::nullopt;
        return FlatTable{*reader_, *where};
    }

    [[nodiscard]] std::vector<FlatTable> tables(int field) const {
        std::vector<FlatTable> all;
        const auto [first, count] = vector_of(field, sizeof(flatbuffers::uoffset_t));
        for (std::size_t i = 0; i < count; ++i) {
            const auto where = reader_->follow(first + i * sizeof(flatbuffers::uoffset_t));
            if (!where) return {};
            all.emplace_back(*reader_, *where);
        }
        return all;
    }

    template <class T>
    [[nodiscard]] std::vector<T> numbers(int field) const {
        std::vector<T> all;
        const auto [first, count] = vector_of(field, sizeof(T));
        all.reserve(count);
        for (std::size_t i = 0; i < count; ++i) all.push_back(reader_->read<T>(first + i * sizeof(T)));
        return all;
    }

    [[nodiscard]] std::span<const std::uint8_t> raw(int field) const {
        const auto [first, count] = vector_of(field, 1);
        return reader_->range(first, count);
    }

    [[nodiscard]] std::string text(int field) const {
        const auto bytes = raw(field);
        return {bytes.begin(), bytes.end()};
    }

  private:
    struct Run {
        std::size_t first = 0;
        std::size_t count = 0;
    };

    /// Where a field's value lies; the table begins with the signed distance back to its list of field offsets.
    [[nodiscard]] std::optional<std::size_t> find(int field) const {
        const auto back = static_cast<std::int64_t>(reader_->read<flatbuffers::soffset_t>(at_));
        const std::int64_t list = static_cast<std::int64_t>(at_) - back;
        if (list < 0) reader_->fail();
        if (!reader_->sound()) return std::nullopt;
        const auto list_at = static_cast<std::size_t>(list);
        const auto list_bytes = reader_->read<flatbuffers::voffset_t>(list_at);
        const std::size_t slot = 4 + 2 * static_cast<std::size_t>(field);
        if (slot + 2 > list_bytes) return std::nullopt;
        const auto offset = reader_->read<flatbuffers::voffset_t>(list_at + slot);
        if (offset == 0) return std::nullopt;
        return at_ + offset;
    }

    [[nodiscard]] std::optional<std::size_t> pointed(int field) const {
        const auto where = find(field);
        return where ? reader_->follow(*where) : std::nullopt;
    }

    [[nodiscard]] Run vector_of(int field, std::size_t element_bytes) const {
        const auto where = pointed(field);
        if (!where) return {};
        const std::size_t count = reader_->read<flatbuffers::uoffset_t>(*where);
        const std::size_t first = *where + sizeof(flatbuffers::uoffset_t);
        // Checked as a whole before anything is reserved: a damaged count must not ask for gigabytes.
        if (count == 0 || reader_->range(first, count * element_bytes).empty()) return {};
        if (!reader_->afford(count * element_bytes)) return {};
        return {first, count};
    }

    FlatReader* reader_;
    std::size_t at_;
};

}  // namespace quarterturn::body
