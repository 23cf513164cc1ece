#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/file.hpp"
#include "body/clip_landmarks.hpp"
#include "compare/outline.hpp"
#include "share/lettering.hpp"
#include "share/measure_method.hpp"
#include "share/side_by_side.hpp"
#include "share/words.hpp"

namespace quarterturn::share {
namespace {

constexpr int gap_px = 4, margin_px = 12;
constexpr std::array<std::uint8_t, 3> paper{20, 22, 26}, ink{235, 235, 230}, faint{170, 172, 176};

media::Image empty(int width, int height) {
    media::Image image{width, height, 3, {}};
    image.samples.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    for (std::size_t i = 0; i < image.samples.size(); ++i) image.samples[i] = paper[i % 3];
    return image;
}

void put(const media::Image& part, int x, int y, media::Image& whole) {
    for (int row = 0; row < part.height; ++row) {
        const auto from = part.samples.begin() + static_cast<std::ptrdiff_t>(row) * part.width * 3;
        std::copy(from, from + part.width * 3,
                  whole.samples.begin() + (static_cast<std::ptrdiff_t>(y + row) * whole.width + x) * 3);
    }
}

void write_words(const Lettering& letters, std::string_view words, int size_px, int x, int baseline,
                 const std::array<std::uint8_t, 3>& colour, media::Image& image) {
    letters.draw(words, size_px, x, baseline, [&](int px, int py, std::uint8_t coverage) {
        if (px < 0 || py < 0 || px >= image.width || py >= image.height) return;
        const auto at =
            (static_cast<std::size_t>(py) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(px)) * 3;
        for (std::size_t c = 0; c < 3; ++c)
            image.samples[at + c] = static_cast<std::uint8_t>(
                (image.samples[at + c] * (255 - coverage) + colour[c] * coverage + 127) / 255);
    });
}

struct Caption {
    std::string pose, now, before;
    std::vector<std::string> differences;
};

/// Both in one picture of the same size.
media::Image laid_together(const PairImages& images, Look look) {
    media::Image one = images.now;
    const auto row = static_cast<std::size_t>(one.width) * 3;
    for (std::size_t i = 0; i < one.samples.size(); ++i) {
        if (look == Look::over)
            one.samples[i] = static_cast<std::uint8_t>((one.samples[i] + images.before.samples[i]) / 2);
        if (look == Look::edge && i % row >= row / 6 * 3) one.samples[i] = images.before.samples[i];
    }
    return one;
}

/// @error missing_part: no landmark model; as the networks
Result<media::Image> with_outline(const PairImages& images, const SideBySide& how) {
    media::Image one = images.now;
    if (!images.before_pelvis) return one;
    const auto models = chosen_models(how.models);
    if (!models) return models.error();
    const auto reader = body::make_body_reader(*models);
    if (!reader) return reader.error();
    const auto outline = body::outline_in(**reader, body::PictureView{images.before}, *images.before_pelvis);
    if (!outline) return outline.error();
    compare::draw_outline(*outline, one);
    return one;
}

/// One picture with a caption below.
media::Image captioned(const media::Image& picture, const std::vector<std::string>& sentences,
                       const Lettering* letters) {
    if (letters == nullptr) return picture;
    const int size = std::max(12, picture.height / 36), line = size * 13 / 10;
    std::vector<std::string> below;
    for (const auto& sentence : sentences)
        for (auto& part : letters->wrapped(sentence, size, picture.width - 2 * margin_px))
            below.push_back(std::move(part));
    media::Image whole = empty(picture.width, picture.height + 2 * margin_px + line * static_cast<int>(below.size()));
    put(picture, 0, 0, whole);
    int y = picture.height + margin_px + size - line;
    for (const std::string& words : below) write_words(*letters, words, size, margin_px, y += line, ink, whole);
    return whole;
}

/// One pair beside each other with its caption below.
media::Image panel(const PairImages& images, const Caption& caption, const Lettering* letters) {
    const int width = 2 * images.now.width + gap_px;
    const int size = std::max(12, images.now.height / 36), line = size * 13 / 10;
    std::vector<std::string> below;
    if (letters != nullptr)
        for (const auto& sentence : caption.differences)
            for (auto& part : letters->wrapped(sentence, size, width - 2 * margin_px)) below.push_back(std::move(part));
    const int strip = letters == nullptr ? 0 : 2 * margin_px + line * static_cast<int>(2 + below.size());
    media::Image whole = empty(width, images.now.height + strip);
    put(images.now, 0, 0, whole);
    put(images.before, images.now.width + gap_px, 0, whole);
    if (letters == nullptr) return whole;
    int y = images.now.height + margin_px + size;
    write_words(*letters, caption.pose, size, margin_px, y, ink, whole);
    y += line;
    const int column = images.now.width - 2 * margin_px;
    write_words(*letters, letters->cut(caption.now, size, column), size, margin_px, y, faint, whole);
    write_words(*letters, letters->cut(caption.before, size, column), size, images.now.width + gap_px + margin_px, y,
                faint, whole);
    for (const std::string& words : below) write_words(*letters, words, size, margin_px, y += line, ink, whole);
    return whole;
}

/// Left to right, top to bottom, two in a row.
media::Image sheet(const std::vector<media::Image>& panels) {
    constexpr std::size_t columns = 2;
    int width = 0, height = 0;
    std::vector<int> tops;
    for (std::size_t i = 0; i < panels.size(); i += columns) {
        int row_width = 0, row_height = 0;
        for (std::size_t k = i; k < std::min(panels.size(), i + columns); ++k) {
            row_width += panels[k].width + (k > i ? 2 * margin_px : 0);
            row_height = std::max(row_height, panels[k].height);
        }
        tops.push_back(height);
        width = std::max(width, row_width);
        height += row_height;
    }
    media::Image whole = empty(width, height);
    for (std::size_t i = 0, x = 0; i < panels.size(); ++i) {
        if (i % columns == 0) x = 0;
        put(panels[i], static_cast<int>(x), tops[i / columns], whole);
        x += static_cast<std::size_t>(panels[i].width + 2 * margin_px);
    }
    return whole;
}

Result<media::Image> drawn(const PairImages& images, const Caption& caption, const SideBySide& how,
                           const Lettering* letters) {
    if (how.look == Look::beside) return panel(images, caption, letters);
    std::vector<std::string> sentences{caption.pose, caption.now,
                                       (how.look == Look::outline ? "line: before, " : "before: ") + caption.before};
    sentences.insert(sentences.end(), caption.differences.begin(), caption.differences.end());
    if (how.look != Look::outline) return captioned(laid_together(images, how.look), sentences, letters);
    const auto outlined = with_outline(images, how);
    if (!outlined) return outlined.error();
    return captioned(*outlined, sentences, letters);
}

Caption caption_for(const ComparedSide& now, const ComparedSide& before, const compare::Comparison& comparison,
                    std::size_t rank, const SideBySide& how) {
    const compare::PairComparison& pair = comparison.pairs[rank];
    compare::Comparison only;
    only.lengths = comparison.lengths;
    only.pairs = {pair};
    Caption caption;
    caption.pose = compare::pair_title(comparison, rank, how.rules);
    caption.now = fmt::format("{}  {}", clock_words(pair.pair.now_still_s), now.title);
    caption.before = fmt::format("{}  {}", clock_words(pair.pair.before_still_s), before.title);
    const auto sentences = compare::summary_of(only, how.rules);
    caption.differences.assign(sentences.begin() + 1, sentences.end());
    const std::string title = compare::pose_title(pair.pair.pose, how.rules);
    for (std::string& sentence : caption.differences) {
        // The pose stands above already.
        if (sentence.starts_with(title + ": ")) sentence.erase(0, title.size() + 2);
        if (!sentence.empty()) sentence[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(sentence[0])));
    }
    return caption;
}

}  // namespace

Result<std::vector<std::string>> write_pair_still(const ComparedSide& now, const ComparedSide& before,
                                                  const compare::Comparison& comparison, const SideBySide& how,
                                                  const std::filesystem::path& out) {
    if (comparison.pairs.empty()) return Error{ErrorCode::bad_input, "No pose is held in both, so there is no still."};
    std::vector<std::string> remarks;
    const auto letters = Lettering::find();
    if (!letters) remarks.emplace_back("No font was found on this machine, so the still has no caption.");
    PairPictures pictures(now, before);
    std::vector<media::Image> panels;
    const int rows = comparison.pairs.size() == 1 ? how.max_height : std::min(how.max_height, 540);
    for (std::size_t rank = 0; rank < comparison.pairs.size(); ++rank) {
        const auto& pair = comparison.pairs[rank];
        if (how.stop.stop_requested()) return Error{ErrorCode::cancelled, "Stopped; nothing was written."};
        const auto images = pictures.of(comparison, pair, rows, how.match_light);
        if (!images) return images.error();
        if (!images->aligned)
            remarks.push_back(fmt::format("{}: not aligned, {}.", compare::pair_title(comparison, rank, how.rules),
                                          pair.alignment_reason));
        auto made = drawn(*images, caption_for(now, before, comparison, rank, how), how, letters ? &*letters : nullptr);
        if (!made) return made.error();
        panels.push_back(std::move(*made));
        if (how.progress)
            how.progress(static_cast<double>(panels.size()) / static_cast<double>(comparison.pairs.size()));
    }
    const auto png = media::encode_png(panels.size() == 1 ? panels.front() : sheet(panels));
    if (!png) return png.error();
    if (Status written = write_file(out, *png); !written) return written.error();
    return remarks;
}

}  // namespace quarterturn::share
