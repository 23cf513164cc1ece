#pragma once
/// Runs a network on one thread, computing only what the asked-for outputs need.
#include <memory>
#include <span>
#include <vector>

#include "base/result.hpp"
#include "body/network_model.hpp"

namespace quarterturn::body {

/// Not thread-safe: one per thread; the model is shared. Give threads whole clips or stretches rather than parts of one
/// inference: two inference threads mostly wait for each other.
class Network {
  public:
    /// @param outputs tensor numbers, each a model output or an operator's result; parts of the network that none of
    ///        them needs are left out
    /// @error bad_input: an output that does not exist or a file the inference library refuses; unsupported: this
    ///        processor or an operator in a place where it cannot be run
    [[nodiscard]] static Result<Network> build(std::shared_ptr<const NetworkModel> model, std::vector<int> outputs);
    Network(Network&&) noexcept;
    Network& operator=(Network&&) noexcept;
    ~Network();

    /// To be filled before run(): the model's first input, channels last.
    [[nodiscard]] std::span<float> input();
    [[nodiscard]] std::span<const int> input_shape() const;

    /// @error io: the inference library failed
    [[nodiscard]] Status run();

    /// Of the last run, in the order asked for.
    [[nodiscard]] std::span<const float> output(std::size_t number) const;

  private:
    struct State;
    explicit Network(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace quarterturn::body
