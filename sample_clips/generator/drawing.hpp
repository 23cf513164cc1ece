#pragma once
/// Draws the pictures of a script, each a pure function of script and picture number.
#include <memory>
#include <vector>

#include "field.hpp"
#include "timeline.hpp"

namespace quarterturn::sample {

/// Rows top to bottom, R, G, B bytes.
struct Drawn {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgb;
};

class Drawing {
  public:
    explicit Drawing(const Script& script, const FieldCode& code = fastest_field());
    Drawing(Drawing&&) noexcept;
    Drawing& operator=(Drawing&&) noexcept;
    ~Drawing();

    /// Ticks of 1/90000 s.
    [[nodiscard]] const std::vector<std::int64_t>& times() const;
    [[nodiscard]] const Timeline& timeline() const;
    /// The picture of this rank. Not thread-safe: it keeps buffers; use one Drawing per thread.
    [[nodiscard]] Drawn picture(std::size_t rank);
    /// The picture at any moment, with the noise of `rank`.
    [[nodiscard]] Drawn picture_at(double t_s, std::size_t rank);

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace quarterturn::sample
