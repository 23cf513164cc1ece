#include "rules/json_text.hpp"

#include <doctest.h>

#include <limits>

using namespace quarterturn;
using namespace quarterturn::rules;

namespace {

bool is_read(std::string_view text) {
    return parse_json(text).has_value();
}
std::string complaint(std::string_view text) {
    return parse_json(text).error().detail;
}

}  // namespace

// RFC 8259: UTF-8, no NaN or Infinity, no leading zeros, trailing commas or comments; any value at the top.
TEST_CASE("the grammar of RFC 8259 is kept") {
    for (const char* good :
         {"{}", "[]", "0", "-0", "1e3", "\"\"", "null", " [1 , 2]\n", "\"\\u0000\"", "\"\\ud83d\\ude00\""}) {
        CAPTURE(good);
        CHECK(is_read(good));
    }
    for (const char* bad : {"", "{", "[1,]", "{\"a\":1,}", "01", "+1", ".5", "1.", "NaN", "Infinity", "-Infinity",
                            "'a'", "{a:1}", "[1] 2", "// no\n1", "\"\t\"", "\"\\x41\"", "tru"}) {
        CAPTURE(bad);
        CHECK_FALSE(is_read(bad));
    }
}

TEST_CASE("a lone surrogate and ill-formed UTF-8 are refused without a crash") {
    CHECK_FALSE(is_read("\"\\ud800\""));
    CHECK_FALSE(is_read("\"\\udc00\""));
    CHECK_FALSE(is_read("\"\\ud800x\""));
    CHECK_FALSE(is_read("\"\xC0\xAF\""));
    CHECK_FALSE(is_read("\"\xED\xA0\x80\""));
}

TEST_CASE("a name that comes twice in one object is refused, in two objects it is fine") {
    CHECK(complaint("{\"a\":1,\"a\":2}") == "The name \"a\" comes twice in one object.");
    CHECK(complaint("[{\"b\":{\"a\":1,\"x\":[{}],\"a\":2}}]") == "The name \"a\" comes twice in one object.");
    CHECK(complaint("{\"a\":1,\"\\u0061\":2}") == "The name \"a\" comes twice in one object.");
    CHECK(is_read("{\"a\":{\"a\":1},\"b\":{\"a\":[{\"a\":1},{\"a\":2}]}}"));
}

TEST_CASE("numbers beyond double are refused, large integers are kept exactly") {
    CHECK(complaint("1e999") == "It holds a number that is too large.");
    CHECK(parse_json("9223372036854775807").value().get<std::int64_t>() == std::numeric_limits<std::int64_t>::max());
    CHECK(parse_json("-9223372036854775808").value().get<std::int64_t>() == std::numeric_limits<std::int64_t>::min());
}

TEST_CASE("nesting is bounded, also when it is enormous") {
    const auto nested = [](std::size_t levels) { return std::string(levels, '[') + std::string(levels, ']'); };
    CHECK(is_read(nested(60)));
    CHECK_FALSE(is_read(nested(100)));
    CHECK_FALSE(is_read(nested(300000)));
}

TEST_CASE("a syntax error says where it is") {
    CHECK(complaint("{\n  \"a\": 1,\n  \"b\" 2\n}") == "It is not well-formed JSON at line 3, column 7.");
}

TEST_CASE("extras fill in what is not there, at every level, and change nothing else") {
    OrderedJson document{{"a", 1}, {"b", {{"c", 2}}}};
    add_extras(document, R"({"a": 9, "b": {"c": 9, "d": 3}, "e": null})");
    CHECK(document.dump() == R"({"a":1,"b":{"c":2,"d":3},"e":null})");
    add_extras(document, "");
    add_extras(document, "not JSON");
    CHECK(document.size() == 3);
}
