#include "posing/call_order.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <set>

using namespace quarterturn::posing;

namespace {

const std::vector<std::string> turns{"quarter_front", "quarter_left_side", "quarter_back", "quarter_right_side"};

/// Pose names of the holds, "-" for an extra one.
std::vector<std::string> labels(const std::vector<double>& durations, const std::vector<std::string>& order,
                                const LooksCost& looks = {}) {
    std::vector<std::string> names;
    for (const CalledHold& hold : align_with_call_order(durations, order, looks))
        names.push_back(hold.call ? order[*hold.call] : "-");
    return names;
}

}  // namespace

TEST_CASE("one hold for each call is labelled in call order") {
    CHECK(labels({5, 6, 5, 4}, turns) == turns);
}

TEST_CASE("a practice stopped early lacks the last poses") {
    CHECK(labels({5, 6}, turns) == std::vector<std::string>{"quarter_front", "quarter_left_side"});
}

TEST_CASE("a short rest before the first call is no pose") {
    CHECK(labels({1.2, 5, 6, 5, 4}, turns) ==
          std::vector<std::string>{"-", "quarter_front", "quarter_left_side", "quarter_back", "quarter_right_side"});
}

TEST_CASE("a short rest between long holds is no pose") {
    CHECK(labels({5, 6, 1.1, 5, 4}, turns) ==
          std::vector<std::string>{"quarter_front", "quarter_left_side", "-", "quarter_back", "quarter_right_side"});
}

TEST_CASE("two rounds are labelled twice") {
    std::vector<std::string> twice = turns;
    twice.insert(twice.end(), turns.begin(), turns.end());
    CHECK(labels({5, 6, 5, 4, 5, 6, 5, 4}, turns) == twice);
}

TEST_CASE("what the body shows finds the missing pose, which the order alone cannot") {
    const std::vector<std::size_t> shown{0, 2, 3};
    const LooksCost looks = [&](std::size_t hold, std::size_t call) { return shown[hold] == call ? 0.0 : 2.0; };
    CHECK(labels({5, 5, 5}, turns, looks) ==
          std::vector<std::string>{"quarter_front", "quarter_back", "quarter_right_side"});
}

TEST_CASE("what the body shows finds a repeated pose") {
    const std::vector<std::size_t> shown{0, 1, 1, 2, 3};
    const LooksCost looks = [&](std::size_t hold, std::size_t call) { return shown[hold] == call ? 0.0 : 2.0; };
    CHECK(labels({5, 5, 5, 5, 5}, turns, looks)[2] == "quarter_left_side");
}

TEST_CASE("a label is less sure where the number of holds does not fit") {
    const std::vector<double> fits{5, 6, 5, 4};
    const std::vector<double> lacks{5, 6, 5};
    CHECK(align_with_call_order(fits, turns)[2].probability > align_with_call_order(lacks, turns)[2].probability);
    CHECK(align_with_call_order(fits, turns)[0].probability > 0.8);
}

TEST_CASE("no holds, or no poses, is no mistake") {
    CHECK(align_with_call_order({}, turns).empty());
    const std::vector<double> durations{3, 4};
    const std::vector<std::string> nothing;
    for (const CalledHold& hold : align_with_call_order(durations, nothing)) {
        CHECK_FALSE(hold.call);
        CHECK(hold.probability == doctest::Approx(1));
    }
}

TEST_CASE("probabilities stay within 0 and 1 and every hold gets an entry") {
    CHECK(rc::check([](const std::vector<unsigned char>& lengths, unsigned char calls) {
        std::vector<double> durations;
        for (const unsigned char length : lengths) durations.push_back(1 + length / 10.0);
        std::vector<std::string> order;
        for (int i = 0; i < calls % 9; ++i) order.push_back("pose_" + std::to_string(i % 5));
        const std::vector<CalledHold> holds = align_with_call_order(durations, order);
        RC_ASSERT(holds.size() == durations.size());
        for (const CalledHold& hold : holds) {
            const bool in_order = !hold.call || *hold.call < order.size();
            RC_ASSERT(in_order);
            RC_ASSERT(hold.probability > 0);
            RC_ASSERT(hold.probability <= 1);
        }
    }));
}
