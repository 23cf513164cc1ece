// Built with -mavx2 where the compiler targets x86-64; nothing here runs before the machine was asked.
#include "field.hpp"

#if defined(__AVX2__)
#include <immintrin.h>

#include <cmath>
#define QUARTERTURN_FIELD_NAMESPACE avx2
#include "field_kernel.hpp"
#endif

namespace quarterturn::sample {

const FieldCode* avx2_field() {
#if defined(__AVX2__)
    static const FieldCode code{avx2::march_tile, avx2::light_at, "AVX2"};
    return &code;
#else
    return nullptr;
#endif
}

}  // namespace quarterturn::sample
