#include "base/date.hpp"

#include <doctest.h>

using namespace quarterturn;

TEST_CASE("dates are read and written, impossible ones refused") {
    CHECK(format_date(parse_date("2028-02-29").value()) == "2028-02-29");
    for (const char* bad : {"2027-02-29", "2027-13-01", "27-01-01", "2027-1-1", "2027-01-01x", ""}) {
        CAPTURE(bad);
        CHECK(parse_date(bad).error().code == ErrorCode::bad_input);
    }
}

TEST_CASE("instants: the examples of RFC 3339, section 5.8") {
    CHECK(parse_instant("1996-12-19T16:39:57-08:00").value() == parse_instant("1996-12-20T00:39:57Z").value());
    CHECK(format_instant(parse_instant("1937-01-01T12:00:27.87+00:20").value()) == "1937-01-01T11:40:27.870Z");
    CHECK(parse_instant("1985-04-12T23:20:50.52Z").value().time_since_epoch().count() == 482196050520);
    CHECK(parse_instant("1990-12-31T23:59:60Z").value() == parse_instant("1991-01-01T00:00:00Z").value());
    CHECK_FALSE(parse_instant("1990-12-31T24:00:00Z"));
    CHECK_FALSE(parse_instant("1990-12-31T23:59:59"));
}

TEST_CASE("weeks out count whole weeks to the show") {
    const Date show = parse_date("2026-05-30").value();
    CHECK(weeks_out(parse_date("2026-05-30").value(), show) == 0);
    CHECK(weeks_out(parse_date("2026-05-24").value(), show) == 0);
    CHECK(weeks_out(parse_date("2026-05-23").value(), show) == 1);
    CHECK(weeks_out(parse_date("2026-03-07").value(), show) == 12);
    CHECK(weeks_out(parse_date("2026-05-31").value(), show) == -1);
}
