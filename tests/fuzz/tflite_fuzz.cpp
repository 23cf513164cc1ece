/// Any bytes as a model file: read or refused, and what is accepted is also safe to run.
#include <cstddef>
#include <cstdint>
#include <string>

#include "body/network.hpp"

using namespace quarterturn::body;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    auto model = NetworkModel::from_bytes(std::string{reinterpret_cast<const char*>(data), size});
    if (!model) return 0;
    std::size_t elements = 0;
    for (const Tensor& tensor : (*model)->graph().tensors) elements += tensor.elements();
    // Larger networks are as sound, only slow to run.
    if (elements > std::size_t{1} << 20U) return 0;
    auto network = Network::build(*model, {(*model)->graph().outputs[0]});
    if (network) static_cast<void>(network->run().has_value());
    return 0;
}
