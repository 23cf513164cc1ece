// A kept index lies in a folder anybody may sync or damage: reading it ends in an index that keeps its promises, or in
// a plain refusal.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "media/frame_index.hpp"
#include "media/index_file.hpp"

namespace {

using namespace quarterturn::media;

void require(bool promise) {
    if (!promise) std::abort();
}

void check(const std::string& bytes) {
    const auto index = load_index(bytes);
    if (!index) return require(!index.error().detail.empty());
    const auto again = load_index(save_index(*index));
    require(again && again->pictures == index->pictures && again->warnings == index->warnings);
    for (std::size_t rank = 0; rank < index->pictures.size(); ++rank) {
        require(index->rank_of(index->pictures[rank].pts) == rank);
        require(index->rank_nearest(index->pictures[rank].pts) == rank);
        require(rank == 0 || index->pictures[rank - 1].pts < index->pictures[rank].pts);
        require(index->pictures[rank].order < index->pictures.size());
    }
    (void)index->rank_at(INT64_MIN);
    (void)index->rank_nearest(INT64_MAX);
    (void)index->duration_s();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    check(bytes);
    // The seal keeps damage out; with a fresh one the parser behind it is reached too.
    check(sealed("QTINDEX\x01" + bytes));
    return 0;
}
