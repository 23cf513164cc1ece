#include "share/html.hpp"

#include "base/text.hpp"

namespace quarterturn::share {

std::string escaped(std::string_view text) {
    std::string out;
    out.reserve(text.size() + text.size() / 8);
    for (const char c : to_utf8(text)) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '&') {
            out += "&amp;";
        } else if (c == '<') {
            out += "&lt;";
        } else if (c == '>') {
            out += "&gt;";
        } else if (c == '"') {
            out += "&quot;";
        } else if (c == '\'') {
            out += "&#39;";
        } else if ((byte < 0x20 && c != '\t' && c != '\n') || byte == 0x7F) {
            out += "\xEF\xBF\xBD";
        } else {
            out += c;
        }
    }
    return out;
}

void Html::start(std::string_view tag, const Attributes& attributes) {
    text_ += '<';
    text_ += tag;
    for (const auto& [name, value] : attributes) {
        text_ += ' ';
        text_ += name;
        text_ += "=\"";
        text_ += escaped(value);
        text_ += '"';
    }
}

Html& Html::open(std::string_view tag, const Attributes& attributes) {
    start(tag, attributes);
    text_ += '>';
    open_.emplace_back(tag);
    return *this;
}

Html& Html::close() {
    if (open_.empty()) return *this;
    text_ += "</" + open_.back() + ">";
    // line ends only where white space means nothing, so that text never gains a space
    if (open_.back() != "span" && open_.back() != "strong" && open_.back() != "a") text_ += '\n';
    open_.pop_back();
    return *this;
}

Html& Html::text(std::string_view text) {
    text_ += escaped(text);
    return *this;
}

Html& Html::element(std::string_view tag, std::string_view text, const Attributes& attributes) {
    return open(tag, attributes).text(text).close();
}

Html& Html::lone(std::string_view tag, const Attributes& attributes) {
    start(tag, attributes);
    text_ += "/>";
    return *this;
}

Html& Html::add(const Html& finished) {
    text_ += finished.markup();
    return *this;
}

Html& Html::unescaped(std::string_view markup) {
    text_ += markup;
    return *this;
}

std::string Html::markup() const {
    Html copy = *this;
    while (!copy.open_.empty()) copy.close();
    return copy.text_;
}

}  // namespace quarterturn::share
