// A cached analysis may be cut short, edited or not ours at all: reading must end in an answer or a plain refusal, and
// what was read must survive being written and read again.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "posing/analysis_json.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace quarterturn;
    const std::string text(reinterpret_cast<const char*>(data), size);
    const Result<posing::Analysis> read = posing::read_analysis(text);
    if (!read) return read.error().detail.empty() ? (std::abort(), 0) : 0;
    const std::string again = posing::write_analysis(*read, true);
    const Result<posing::Analysis> reread = posing::read_analysis(again);
    if (!reread || posing::write_analysis(*reread, true) != again) std::abort();
    return 0;
}
