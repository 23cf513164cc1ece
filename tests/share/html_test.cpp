#include "share/html.hpp"

#include <doctest.h>

using namespace quarterturn::share;

TEST_CASE("what people typed is shown, never run") {
    Html html;
    html.element("p", "<script>alert('x')</script> & \"more\"", {{"title", "\" onclick=\"x"}});
    CHECK(html.markup() ==
          "<p title=\"&quot; onclick=&quot;x\">&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; "
          "&quot;more&quot;</p>\n");
}

TEST_CASE("control characters and ill-formed UTF-8 become the replacement character") {
    CHECK(escaped(std::string{"a\0b\x1B\x7F\xC3", 6}) ==
          "a\xEF\xBF\xBD"
          "b\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
    CHECK(escaped("tab\tline\n") == "tab\tline\n");
}

TEST_CASE("elements are closed in order, forgotten ones at the end") {
    Html html;
    html.open("div").open("p").text("a").close().lone("img", {{"alt", ""}});
    CHECK(html.markup() == "<div><p>a</p>\n<img alt=\"\"/></div>\n");
    Html outer;
    outer.open("main").add(html).close().close();
    CHECK(outer.markup() == "<main><div><p>a</p>\n<img alt=\"\"/></div>\n</main>\n");
}
