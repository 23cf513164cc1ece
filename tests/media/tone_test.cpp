#include "media/tone.hpp"

#include <doctest.h>

#include <cmath>
#include <random>
#include <vector>

using namespace quarterturn;
using namespace quarterturn::media;

// Reference white of 203 cd/m2 is 58 % PQ and 75 % HLG (ITU-R BT.2408).
TEST_CASE("high dynamic range keeps its order and its reference white is bright, not burnt") {
    for (const auto& [transfer, white] : {std::pair{Transfer::pq, 0.58}, std::pair{Transfer::hlg, 0.75}}) {
        const double shown = to_standard(Triple{white, white, white}, transfer)[1];
        CHECK(shown > 0.8);
        CHECK(shown < 0.97);
        double last = -1;
        for (double signal = 0; signal <= 1; signal += 0.05) {
            const double value = to_standard(Triple{signal, signal, signal}, transfer)[1];
            CHECK(value >= last);
            last = value;
        }
    }
}

// Within one 8-bit step: half of one for rounding to bytes, the rest for tables of 12 bits.
TEST_CASE("the tables give the colours of the plain arithmetic") {
    std::mt19937 random(3);
    for (const Transfer transfer : {Transfer::hlg, Transfer::pq}) {
        std::vector<std::uint16_t> signals(3 * 4000);
        for (auto& signal : signals) signal = static_cast<std::uint16_t>(random());
        std::vector<std::uint8_t> shown(signals.size());
        to_standard(signals, transfer, shown);
        double worst = 0;
        for (std::size_t i = 0; i < signals.size(); i += 3) {
            const Triple exact =
                to_standard(Triple{signals[i] / 65535.0, signals[i + 1] / 65535.0, signals[i + 2] / 65535.0}, transfer);
            for (std::size_t c = 0; c < 3; ++c) worst = std::max(worst, std::abs(exact[c] * 255 - shown[i + c]));
        }
        CHECK(worst <= 1);
    }
}
