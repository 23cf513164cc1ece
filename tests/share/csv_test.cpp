#include "share/csv.hpp"

#include <doctest.h>
#include <rapidcheck.h>

#include <limits>

using namespace quarterturn::share;

TEST_CASE("numbers stay numbers, absent ones are empty fields") {
    CsvTable table({"a", "b", "c", "d", "e", "f"});
    table.add({CsvNumber{-3.5, 1}, std::int64_t{-7}, csv_number(std::nullopt, 2), csv_number(8.125, 2),
               csv_number(std::numeric_limits<double>::quiet_NaN(), 1), CsvNumber{-0.04, 1}});
    CHECK(table.text() == "a,b,c,d,e,f\r\n-3.5,-7,,8.12,,0.0\r\n");
}

TEST_CASE("formula starts after spaces and in full width are defused") {
    CHECK(defused("  =1") == "'  =1");
    CHECK(defused("\xEF\xBC\x9D"
                  "1") ==
          "'\xEF\xBC\x9D"
          "1");
    CHECK(defused("knees - straight") == "knees - straight");
    CHECK(defused("Knie gestreckt \xE2\x80\x93 l\xC3\xA4nger halten") ==
          "Knie gestreckt \xE2\x80\x93 l\xC3\xA4nger halten");
}

TEST_CASE("ill-formed bytes become the replacement character") {
    CHECK(defused("a\xFF") == "a\xEF\xBF\xBD");
}

TEST_CASE("any text comes back from its field, with at most the defusing quote in front") {
    CHECK(rc::check([](const std::string& raw) {
        const std::string content = defused(raw);
        CsvTable table({"x"});
        table.add({raw});
        std::string field = table.text().substr(3);
        field.resize(field.size() - 2);
        std::string back;
        if (!field.empty() && field.front() == '"') {
            for (std::size_t i = 1; i + 1 < field.size(); ++i) {
                back += field[i];
                if (field[i] == '"') ++i;
            }
        } else {
            back = field;
        }
        RC_ASSERT(back == content);
    }));
}
