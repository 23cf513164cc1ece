#include "app/latest_wish.hpp"

#include <doctest.h>

#include <atomic>
#include <optional>
#include <random>
#include <vector>

#include "made_up_film.hpp"

using namespace quarterturn::app;

namespace {

struct Number {
    int value = 0;
};
struct Found {
    std::optional<int> wish;
    int steps = 0;
};
using Work = LatestWish<Number, Found>;

}  // namespace

// The thread answers in several steps, the asker changes its mind in between: run under the thread sanitizer, too.
TEST_CASE("whatever comes after a new wish was asked belongs to that wish, and the last wish is carried out") {
    std::atomic<int> begun{0};
    Work work([&](const Work::Asked& asked) {
        ++begun;
        for (int i = 0; i < 50 && asked.still(); ++i)
            if (!asked.answer([&](Found& found) { found.wish = asked.wish.value, ++found.steps; })) return;
    });
    std::mt19937 random(11);
    for (int wish = 1; wish <= 3000; ++wish) {
        work.ask({wish});
        for (unsigned looks = static_cast<unsigned>(random() % 4); looks > 0; --looks) {
            const auto found = work.look([](const Found& now) { return now.wish; });
            REQUIRE((!found || *found == wish));
        }
    }
    until([&] { return work.look([](const Found& found) { return found.steps; }) == 50; });
    CHECK(work.look([](const Found& found) { return found.wish; }) == 3000);
    CHECK(begun <= 3000);
}

TEST_CASE("what was answered can be taken out once") {
    Work work([](const Work::Asked& asked) { asked.answer([&](Found& found) { found.wish = asked.wish.value; }); });
    work.ask({7});
    const auto take = [&] { return work.look([](Found& found) { return std::exchange(found.wish, std::nullopt); }); };
    std::optional<int> first;
    until([&] { return (first = take()).has_value(); });
    CHECK(first == 7);
    CHECK_FALSE(take());
}

TEST_CASE("an ending thread does not wait for work that asks whether it should go on") {
    std::atomic<bool> working{false};
    {
        Work work([&](const Work::Asked& asked) {
            while (asked.still()) working = true;
        });
        work.ask({1});
        until([&] { return working.load(); });
    }
    CHECK(working);
}
