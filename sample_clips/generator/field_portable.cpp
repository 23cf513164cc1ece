#include <cmath>

#include "field.hpp"
#define QUARTERTURN_FIELD_NAMESPACE portable
#include "field_kernel.hpp"

namespace quarterturn::sample {

const FieldCode& portable_field() {
    static const FieldCode code{portable::march_tile, portable::light_at, "portable"};
    return code;
}

const FieldCode& fastest_field() {
#if defined(__x86_64__)
    if (avx2_field() != nullptr && __builtin_cpu_supports("avx2") != 0) return *avx2_field();
#endif
    return portable_field();
}

}  // namespace quarterturn::sample
