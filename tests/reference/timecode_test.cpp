#include "base/timecode.hpp"

#include <doctest.h>

#include <array>
#include <string>

using namespace quarterturn;

namespace {

struct Label {
    std::int64_t count;
    const char* text;
};

void check(const Label& label, TimecodeRate rate) {
    CAPTURE(label.text);
    CHECK(timecode_label(label.count, rate).value() == label.text);
    CHECK(timecode_count(label.text, rate).value() == label.count);
}

}  // namespace

// SMPTE ST 12-1, drop-frame compensation at 30000/1001: labels 00 and 01 of every minute except each tenth are left
// out. The values below were worked out from that rule by naming all 2 589 408 pictures of a day one by one.
TEST_CASE("drop-frame labels at 29.97 pictures per second") {
    for (const Label& label : {Label{0, "00:00:00;00"},
                               {1799, "00:00:59;29"},
                               {1800, "00:01:00;02"},
                               {3597, "00:01:59;29"},
                               {3598, "00:02:00;02"},
                               {17981, "00:09:59;29"},
                               {17982, "00:10:00;00"},
                               {19782, "00:11:00;02"},
                               {53946, "00:30:00;00"},
                               {107892, "01:00:00;00"},
                               {2589407, "23:59:59;29"}})
        check(label, {30, true});
    CHECK(timecode_label(2589408, {30, true}).value() == "00:00:00;00");
}

// The same rule with four labels, as SMPTE ST 12-3 has it for 60000/1001.
TEST_CASE("drop-frame labels at 59.94 pictures per second") {
    for (const Label& label : {Label{3600, "00:01:00;04"}, {35964, "00:10:00;00"}, {215784, "01:00:00;00"}})
        check(label, {60, true});
}

TEST_CASE("labels without dropping fall behind the clock") {
    for (const Label& label : {Label{17982, "00:09:59:12"}, {107892, "00:59:56:12"}}) check(label, {30, false});
    for (const Label& label : {Label{25, "00:00:01:00"}, {90000, "01:00:00:00"}}) check(label, {25, false});
}

TEST_CASE("naming a day picture by picture, skipping labels by the rule's own words, gives the same labels") {
    std::int64_t count = 0;
    for (int hour = 0; hour < 24; ++hour)
        for (int minute = 0; minute < 60; ++minute)
            for (int second = 0; second < 60; ++second)
                for (int picture = 0; picture < 30; ++picture) {
                    if (minute % 10 != 0 && second == 0 && picture < 2) continue;
                    // Every label is too many for formatting; every seventh and the edges of minutes are enough.
                    if (count % 7 == 0 || second == 0 || second == 59) {
                        std::array<char, 16> text{};
                        std::snprintf(text.data(), text.size(), "%02d:%02d:%02d;%02d", hour, minute, second, picture);
                        if (timecode_label(count, {30, true}).value() != text.data()) FAIL(text.data());
                    }
                    ++count;
                }
    CHECK(count == 2589408);
}

TEST_CASE("labels that do not exist are refused") {
    for (const char* text : {"00:01:00;00", "00:01:00;01", "00:00:00:00", "24:00:00;00", "00:60:00;00", "00:00:60;00",
                             "00:00:00;30", "0:00:00;00", "00:00:00;0", "", "aa:bb:cc;dd", "-1:00:00;00"}) {
        CAPTURE(text);
        CHECK_FALSE(timecode_count(text, {30, true}));
    }
    CHECK(timecode_count("00:10:00;00", {30, true}));
    CHECK_FALSE(timecode_label(0, {25, true}));
    CHECK_FALSE(timecode_label(-1, {30, true}));
}
