#include "journal/record.hpp"

#include <algorithm>

namespace quarterturn::journal {
namespace {

bool covers(const EditCounters& a, const EditCounters& b) {
    return std::all_of(b.begin(), b.end(), [&](const auto& entry) {
        const auto found = a.find(entry.first);
        return entry.second <= 0 || (found != a.end() && found->second >= entry.second);
    });
}

}  // namespace

Order compare_edits(const EditCounters& a, const EditCounters& b) {
    const bool a_covers = covers(a, b);
    const bool b_covers = covers(b, a);
    if (a_covers && b_covers) return Order::same;
    if (a_covers) return Order::newer;
    return b_covers ? Order::older : Order::apart;
}

}  // namespace quarterturn::journal
