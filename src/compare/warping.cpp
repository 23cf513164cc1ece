#include "compare/warping.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace quarterturn::compare {
namespace {

enum class From : std::uint8_t { none, diagonal, first, second };

class Table {
  public:
    Table(std::size_t n, std::size_t m) : n_(n), m_(m), cost_(n * m, infinite), from_(n * m, From::none) {}

    void fill(const std::function<double(std::size_t, std::size_t)>& distance, const WarpSettings& settings) {
        const double diagonal = settings.weights == StepWeights::symmetric ? 2 : 1;
        const double slope = n_ > 1 ? static_cast<double>(m_ - 1) / static_cast<double>(n_ - 1) : 0;
        // Steps of the line longer than the band would leave gaps in it.
        const double band = std::max(settings.band, std::max(1.0, slope));
        for (std::size_t i = 0; i < n_; ++i) {
            for (std::size_t j = 0; j < m_; ++j) {
                if (n_ > 1 && std::abs(slope * static_cast<double>(i) - static_cast<double>(j)) > band) continue;
                const double here = distance(i, j);
                if (i == 0 && j == 0) cost_[0] = diagonal * here;
                if (i > 0 && j > 0) offer(i, j, cost(i - 1, j - 1) + diagonal * here, From::diagonal);
                if (i > 0) offer(i, j, cost(i - 1, j) + here, From::first);
                if (j > 0) offer(i, j, cost(i, j - 1) + here, From::second);
            }
        }
    }

    [[nodiscard]] Warping result() const {
        Warping out;
        out.cost = cost(n_ - 1, m_ - 1);
        std::size_t i = n_ - 1, j = m_ - 1;
        for (;;) {
            out.path.emplace_back(i, j);
            const From from = from_[i * m_ + j];
            if (from == From::none) break;
            if (from != From::second) --i;
            if (from != From::first) --j;
        }
        std::reverse(out.path.begin(), out.path.end());
        return out;
    }

  private:
    static constexpr double infinite = std::numeric_limits<double>::infinity();
    [[nodiscard]] double cost(std::size_t i, std::size_t j) const { return cost_[i * m_ + j]; }
    void offer(std::size_t i, std::size_t j, double cost, From from) {
        if (!(cost < cost_[i * m_ + j])) return;
        cost_[i * m_ + j] = cost;
        from_[i * m_ + j] = from;
    }

    std::size_t n_, m_;
    std::vector<double> cost_;
    std::vector<From> from_;
};

}  // namespace

std::optional<Warping> warp(std::size_t n, std::size_t m,
                            const std::function<double(std::size_t, std::size_t)>& distance,
                            const WarpSettings& settings) {
    if (n == 0 || m == 0) return std::nullopt;
    Table table(n, m);
    table.fill(distance, settings);
    return table.result();
}

}  // namespace quarterturn::compare
