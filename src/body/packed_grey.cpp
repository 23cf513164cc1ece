#include "body/packed_grey.hpp"

#include <algorithm>

namespace quarterturn::body {
namespace {

constexpr int longest_run = 15;  // of ones; then the value itself follows
constexpr int longest_code = longest_run + 8;
constexpr int forget_after = 64;

class BitWriter {
  public:
    explicit BitWriter(std::vector<std::uint8_t>& to) : to_(to) {}
    /// Makes room for so many more codes.
    void expect(std::size_t codes) {
        const std::size_t most = written_ + codes * (longest_code / 8 + 1) + sizeof held_;
        if (to_.size() < most) to_.resize(std::max(most, 2 * to_.size()));
    }
    /// @param count  at most 32
    void put(std::uint32_t value, int count) {
        held_ = (held_ << count) | value;
        have_ += count;
        if (have_ < 32) return;
        have_ -= 32;
        const auto full = static_cast<std::uint32_t>(held_ >> have_);
        for (int i = 0; i < 4; ++i) to_[written_ + static_cast<std::size_t>(i)] = byte_of(full, 24 - 8 * i);
        written_ += 4;
    }
    void finish() {
        if (have_ % 8 != 0) put(0, 8 - have_ % 8);
        for (; have_ > 0; have_ -= 8) to_[written_++] = byte_of(held_, have_ - 8);
        to_.resize(written_);
    }

  private:
    static std::uint8_t byte_of(std::uint64_t value, int from_bit) {
        return static_cast<std::uint8_t>(value >> from_bit);
    }

    std::vector<std::uint8_t>& to_;
    std::size_t written_ = 0;
    std::uint64_t held_ = 0;
    int have_ = 0;
};

class BitReader {
  public:
    explicit BitReader(const std::vector<std::uint8_t>& from) : from_(from) {}
    std::uint32_t take(int count) {
        while (have_ < count) {
            held_ = (held_ << 8) | (at_ < from_.size() ? from_[at_] : 0U);
            ++at_;
            have_ += 8;
        }
        have_ -= count;
        return static_cast<std::uint32_t>(held_ >> have_) & ((1U << count) - 1U);
    }

  private:
    const std::vector<std::uint8_t>& from_;
    std::size_t at_ = 0;
    std::uint64_t held_ = 0;
    int have_ = 0;
};

/// Chooses the codes' parameter from the values so far; both sides keep one.
class Habit {
  public:
    [[nodiscard]] int parameter() const { return parameter_; }
    void learn(int value) {
        sum_ += value;
        if (++count_ >= forget_after) {
            count_ /= 2;
            sum_ /= 2;
        }
        while (parameter_ > 0 && count_ << (parameter_ - 1) >= sum_) --parameter_;
        while (parameter_ < 7 && count_ << parameter_ < sum_) ++parameter_;
    }

  private:
    int sum_ = 8, count_ = 2;
    int parameter_ = 2;  ///< the least with which `count_` values of two to this power reach the sum; at most 7
};

/// From the pixel to the left, the one above and the one between them.
int foretold(int left, int above, int corner) {
    const int least = std::min(left, above), most = std::max(left, above);
    return corner >= most ? least : (corner <= least ? most : left + above - corner);
}

/// In the first column.
int foretold_first(const cv::Mat& grey, int row) {
    return row == 0 ? 128 : grey.ptr<std::uint8_t>(row - 1)[0];
}

/// Small differences of either sign become small numbers.
int folded(int difference) {
    const int wrapped = ((difference + 384) & 255) - 128;  // -128..127
    return wrapped >= 0 ? 2 * wrapped : -2 * wrapped - 1;
}

int unfolded(int value) {
    return value % 2 == 0 ? value / 2 : -(value + 1) / 2;
}

void put(BitWriter& out, int value, int k) {
    const int run = value >> k;
    if (run >= longest_run) {
        out.put((((1U << longest_run) - 1U) << 8U) | static_cast<std::uint32_t>(value), longest_code);
        return;
    }
    const std::uint32_t low = static_cast<std::uint32_t>(value) & ((1U << k) - 1U);
    out.put((((1U << run) - 1U) << (k + 1)) | low, run + 1 + k);
}

int take(BitReader& in, int k) {
    int run = 0;
    while (run < longest_run && in.take(1) == 1) ++run;
    if (run == longest_run) return static_cast<int>(in.take(8));
    return (run << k) | (k > 0 ? static_cast<int>(in.take(k)) : 0);
}

}  // namespace

PackedGrey::PackedGrey(const cv::Mat& grey) : size_(grey.size()) {
    bits_.reserve(static_cast<std::size_t>(size_.area()));
    BitWriter out{bits_};
    Habit habit;
    const auto write = [&](int pixel, int expected) {
        const int value = folded(pixel - expected);
        put(out, value, habit.parameter());
        habit.learn(value);
    };
    for (int row = 0; row < grey.rows; ++row) {
        out.expect(static_cast<std::size_t>(grey.cols));
        const auto* here = grey.ptr<std::uint8_t>(row);
        write(here[0], foretold_first(grey, row));
        if (row == 0) {
            for (int column = 1; column < grey.cols; ++column) write(here[column], here[column - 1]);
            continue;
        }
        const auto* above = grey.ptr<std::uint8_t>(row - 1);
        for (int column = 1; column < grey.cols; ++column)
            write(here[column], foretold(here[column - 1], above[column], above[column - 1]));
    }
    out.finish();
    bits_.shrink_to_fit();
}

cv::Mat PackedGrey::unpacked() const {
    cv::Mat grey(size_, CV_8U);
    BitReader in{bits_};
    Habit habit;
    const auto next = [&](int expected) {
        const int value = take(in, habit.parameter());
        habit.learn(value);
        return static_cast<std::uint8_t>(expected + unfolded(value));
    };
    for (int row = 0; row < grey.rows; ++row) {
        auto* here = grey.ptr<std::uint8_t>(row);
        here[0] = next(foretold_first(grey, row));
        const auto* above = grey.ptr<std::uint8_t>(std::max(row - 1, 0));
        for (int column = 1; column < grey.cols; ++column)
            here[column] =
                next(row == 0 ? here[column - 1] : foretold(here[column - 1], above[column], above[column - 1]));
    }
    return grey;
}

}  // namespace quarterturn::body
