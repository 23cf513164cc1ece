#include "posing/smoothness.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using quarterturn::posing::spectral_arc_length;

namespace {

/// Speed of a movement of length 1 from rest to rest with least jerk (Flash and Hogan 1985).
std::vector<double> least_jerk(double seconds, double rate_hz) {
    std::vector<double> speed;
    const int count = static_cast<int>(seconds * rate_hz);
    for (int i = 0; i <= count; ++i) {
        const double s = static_cast<double>(i) / count;
        speed.push_back(30 * s * s * (1 - s) * (1 - s) / seconds);
    }
    return speed;
}

std::vector<double> with_stops(int stops) {
    std::vector<double> speed;
    for (int i = 0; i <= stops; ++i) {
        const auto part = least_jerk(1, 60);
        speed.insert(speed.end(), part.begin(), part.end());
    }
    return speed;
}

}  // namespace

TEST_CASE("one movement of least jerk has an arc length of about -1.4") {
    // Balasubramanian et al. 2015, J NeuroEng Rehabil 12:112: a minimum-jerk movement gives about -1.41 (from memory).
    CHECK(*spectral_arc_length(least_jerk(1, 100), 100) == doctest::Approx(-1.41).epsilon(0.03));
}

TEST_CASE("the size and the rate of a movement do not change its smoothness") {
    std::vector<double> large = least_jerk(1, 100);
    for (double& speed : large) speed *= 7;
    const double once = *spectral_arc_length(least_jerk(1, 100), 100);
    CHECK(*spectral_arc_length(large, 100) == doctest::Approx(once).epsilon(1e-9));
    CHECK(*spectral_arc_length(least_jerk(1, 60), 60) == doctest::Approx(once).epsilon(0.03));
}

TEST_CASE("each stop on the way makes a movement less smooth") {
    const double none = *spectral_arc_length(with_stops(0), 60);
    const double one = *spectral_arc_length(with_stops(1), 60);
    const double three = *spectral_arc_length(with_stops(3), 60);
    CHECK(one < none - 0.2);
    CHECK(three < one - 0.5);
}

TEST_CASE("without movement or with too few samples there is no smoothness") {
    CHECK_FALSE(spectral_arc_length(std::vector<double>(20, 0.0), 30));
    CHECK_FALSE(spectral_arc_length(std::vector<double>(4, 1.0), 30));
}
