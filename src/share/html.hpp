#pragma once
/// Writes HTML (and SVG inside it) so that whatever people typed is shown and never run: text and attribute values are
/// escaped always, elements are closed in order.
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace quarterturn::share {

/// `text` for element content or a quoted attribute: & < > " ' as character references, ill-formed UTF-8 and control
/// characters other than tab and line feed as U+FFFD.
[[nodiscard]] std::string escaped(std::string_view text);

/// Name and unescaped value. Names come from the program, never from people.
using Attribute = std::pair<std::string_view, std::string>;
using Attributes = std::vector<Attribute>;

class Html {
  public:
    Html& open(std::string_view tag, const Attributes& attributes = {});
    /// Closes the element opened last. Closing more than was opened is a bug and does nothing.
    Html& close();
    Html& text(std::string_view text);
    /// open, text, close.
    Html& element(std::string_view tag, std::string_view text, const Attributes& attributes = {});
    /// An element without content: <img>, <br>, <line/> ... written so that both HTML and SVG read it.
    Html& lone(std::string_view tag, const Attributes& attributes = {});
    /// Markup made by another Html.
    Html& add(const Html& finished);
    /// Text that is neither escaped nor checked: the style sheet and the document type.
    Html& unescaped(std::string_view markup);

    /// All markup so far with every open element closed.
    [[nodiscard]] std::string markup() const;
    [[nodiscard]] bool empty() const { return text_.empty(); }

  private:
    void start(std::string_view tag, const Attributes& attributes);
    std::string text_;
    std::vector<std::string> open_;
};

}  // namespace quarterturn::share
