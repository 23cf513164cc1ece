#pragma once
/// Words drawn into pictures, with a font of this machine.
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace quarterturn::share {

/// Not thread-safe.
class Lettering {
  public:
    /// The first of a few common sans-serif fonts below these folders; nullopt when there is none.
    [[nodiscard]] static std::optional<Lettering> find(const std::vector<std::filesystem::path>& folders);
    /// In the system's and the person's font folders.
    [[nodiscard]] static std::optional<Lettering> find();
    Lettering(Lettering&&) noexcept;
    Lettering& operator=(Lettering&&) noexcept;
    ~Lettering();

    using Ink = std::function<void(int x, int y, std::uint8_t coverage)>;  ///< coverage 1..255
    /// @param utf8  one line; characters the font does not have show as a box
    /// @param size_px  of the letters, line feed to line feed about 1.2 of it
    void draw(std::string_view utf8, int size_px, int x, int baseline_y, const Ink& ink) const;
    [[nodiscard]] int width(std::string_view utf8, int size_px) const;
    /// At spaces, so that every line fits; a longer word stands alone.
    [[nodiscard]] std::vector<std::string> wrapped(std::string_view utf8, int size_px, int width_px) const;

    /// As much of the line as fits, ending in "…" where it was cut.
    [[nodiscard]] std::string cut(std::string_view utf8, int size_px, int width_px) const;

  private:
    struct Face;
    explicit Lettering(std::unique_ptr<Face> face);
    std::unique_ptr<Face> face_;
};

}  // namespace quarterturn::share
