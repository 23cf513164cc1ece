#include "body/packed_grey.hpp"

#include <algorithm>

namespace quarterturn::body {
namespace {

constexpr int longest_run = 15;  // of ones; then the value itself follows
constexpr int forget_after = 64;

class BitWriter {
  public:
    explicit BitWriter(std::vector<std::uint8_t>& to) : to_(to) {}
    void put(std::uint32_t value, int count) {
        held_ = (held_ << count) | value;
        have_ += count;
        while (have_ >= 8) {
            have_ -= 8;
            to_.push_back(static_cast<std::uint8_t>(held_ >> have_));
        }
    }
    void finish() {
        if (have_ > 0) put(0, 8 - have_);
    }

  private:
    std::vector<std::uint8_t>& to_;
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
    [[nodiscard]] int parameter() const {
        int k = 0;
        while (k < 7 && (count_ << k) < sum_) ++k;
        return k;
    }
    void learn(int value) {
        sum_ += value;
        if (++count_ < forget_after) return;
        count_ /= 2;
        sum_ /= 2;
    }

  private:
    int sum_ = 8, count_ = 2;
};

int foretold(const cv::Mat& grey, int row, int column) {
    const auto at = [&](int r, int c) { return static_cast<int>(grey.ptr<std::uint8_t>(r)[c]); };
    if (row == 0) return column == 0 ? 128 : at(0, column - 1);
    if (column == 0) return at(row - 1, 0);
    const int left = at(row, column - 1), above = at(row - 1, column), corner = at(row - 1, column - 1);
    if (corner >= std::max(left, above)) return std::min(left, above);
    if (corner <= std::min(left, above)) return std::max(left, above);
    return left + above - corner;
}

/// Small differences of either sign become small numbers.
int folded(int difference) {
    const int wrapped = static_cast<std::int8_t>(difference);
    return wrapped >= 0 ? 2 * wrapped : -2 * wrapped - 1;
}

int unfolded(int value) {
    return value % 2 == 0 ? value / 2 : -(value + 1) / 2;
}

void put(BitWriter& out, int value, int k) {
    const int run = value >> k;
    if (run >= longest_run) {
        out.put((1U << longest_run) - 1U, longest_run);
        out.put(static_cast<std::uint32_t>(value), 8);
        return;
    }
    out.put(((1U << run) - 1U) << 1U, run + 1);
    if (k > 0) out.put(static_cast<std::uint32_t>(value) & ((1U << k) - 1U), k);
}

int take(BitReader& in, int k) {
    int run = 0;
    while (run < longest_run && in.take(1) == 1) ++run;
    if (run == longest_run) return static_cast<int>(in.take(8));
    return (run << k) | (k > 0 ? static_cast<int>(in.take(k)) : 0);
}

}  // namespace

PackedGrey::PackedGrey(const cv::Mat& grey) : size_(grey.size()) {
    bits_.reserve(static_cast<std::size_t>(size_.area()) / 2);
    BitWriter out{bits_};
    Habit habit;
    for (int row = 0; row < grey.rows; ++row)
        for (int column = 0; column < grey.cols; ++column) {
            const int value = folded(grey.ptr<std::uint8_t>(row)[column] - foretold(grey, row, column));
            put(out, value, habit.parameter());
            habit.learn(value);
        }
    out.finish();
    bits_.shrink_to_fit();
}

cv::Mat PackedGrey::unpacked() const {
    cv::Mat grey(size_, CV_8U);
    BitReader in{bits_};
    Habit habit;
    for (int row = 0; row < grey.rows; ++row)
        for (int column = 0; column < grey.cols; ++column) {
            const int value = take(in, habit.parameter());
            grey.ptr<std::uint8_t>(row)[column] =
                static_cast<std::uint8_t>(foretold(grey, row, column) + unfolded(value));
            habit.learn(value);
        }
    return grey;
}

}  // namespace quarterturn::body
