/// Tables against RFC 4180 (Common Format and MIME Type for CSV Files) and published lists of formula starts: OWASP
/// "CSV Injection" (= + - @ TAB CR) and OWASP ASVS 5, V1.2.10 (= + - @ TAB NUL); see also CWE-1236. The union is
/// covered.
#include "share/csv.hpp"

#include <doctest.h>

using namespace quarterturn::share;

namespace {

std::string one_field(const std::string& text) {
    CsvTable table({"a"});
    table.add({text});
    return table.text().substr(3);
}

}  // namespace

TEST_CASE("RFC 4180, section 2: line ends, quotes and equal field counts") {
    CsvTable table({"field_1", "field_2"});
    table.add({std::string{"aaa"}, std::string{"b,bb"}});
    table.add({std::string{"b\r\nbb"}, std::string{"b\"bb"}});
    table.add({std::string{"only one"}});
    CHECK(table.text() == "field_1,field_2\r\naaa,\"b,bb\"\r\n\"b\r\nbb\",\"b\"\"bb\"\r\nonly one,\r\n");
    CHECK(one_field("say \"hold\", then turn") == "\"say \"\"hold\"\", then turn\"\r\n");
    CHECK(one_field(" spaces kept ") == " spaces kept \r\n");
}

TEST_CASE("OWASP lists: text that a spreadsheet would run begins with a single quote") {
    CHECK(one_field("=1+1") == "'=1+1\r\n");
    CHECK(one_field("+1") == "'+1\r\n");
    CHECK(one_field("-1+1") == "'-1+1\r\n");
    CHECK(one_field("@SUM(A1)") == "'@SUM(A1)\r\n");
    CHECK(one_field("\t=1") == "'\t=1\r\n");
    CHECK(one_field("\r=1") == "\"'\r=1\"\r\n");
    CHECK(one_field("\n=1") == "\"'\n=1\"\r\n");
    CHECK(one_field(std::string{"\0=1", 3}) == "'\xEF\xBF\xBD=1\r\n");
    CHECK(one_field("=HYPERLINK(\"x\",\"y\")") == "\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\"\r\n");
}

TEST_CASE("a field that is a formula only after a program has taken the quotes off is defused as well") {
    // RFC 4180 2.7 quotes the text `"=1"`; reading it back gives `"=1"` with its quotes, which is text
    CHECK(one_field("\"=1\"") == "\"\"\"=1\"\"\"\r\n");
    CHECK(one_field("=1,2") == "\"'=1,2\"\r\n");
}
