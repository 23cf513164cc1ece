#include "body/tflite_model.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstring>
#include <random>

#include "base/file.hpp"
#include "body/network.hpp"
#include "models.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::body;

TEST_CASE("the model files hold the operators and outputs the program expects") {
    const auto model = read_tflite(file_bytes("landmarks_full.tflite"));
    REQUIRE(model);
    REQUIRE(model->inputs.size() == 1);
    CHECK(model->tensors[static_cast<std::size_t>(model->inputs[0])].shape == std::vector<int>{1, 256, 256, 3});
    std::vector<std::size_t> sizes;
    for (const int output : model->outputs)
        sizes.push_back(model->tensors[static_cast<std::size_t>(output)].elements());
    // 39 x 5 numbers, presence, mask, heat maps, 39 x 3 metres
    CHECK(sizes == std::vector<std::size_t>{195, 1, 65536, 159744, 117});
}

// IEEE 754-2019, binary16.
TEST_CASE("half-precision numbers become the same single-precision numbers") {
    CHECK(from_half(0x3c00) == 1.0F);
    CHECK(from_half(0xc000) == -2.0F);
    CHECK(from_half(0x7bff) == 65504.0F);
    CHECK(from_half(0x0400) == std::ldexp(1.0F, -14));
    CHECK(from_half(0x0001) == std::ldexp(1.0F, -24));
    CHECK(from_half(0x3555) == doctest::Approx(0.333251953125).epsilon(1e-12));
    CHECK(from_half(0x8000) == 0.0F);
    CHECK(std::signbit(from_half(0x8000)));
    CHECK(std::isinf(from_half(0x7c00)));
    CHECK(std::isnan(from_half(0x7e00)));
}

TEST_CASE("something else is called not a model file") {
    for (const std::string& bytes : {std::string{}, std::string{"TFL3"}, std::string(1000, 'x')}) {
        const auto model = read_tflite(bytes);
        REQUIRE_FALSE(model);
        CHECK(model.error().code == ErrorCode::bad_input);
    }
}

TEST_CASE("a model file cut anywhere is an error") {
    const std::string whole = file_bytes("person_detector.tflite");
    for (std::size_t tenth = 0; tenth < 10; ++tenth) {
        const auto model = NetworkModel::from_bytes(whole.substr(0, whole.size() * tenth / 10));
        CAPTURE(tenth);
        CHECK_FALSE(model);
    }
}

TEST_CASE("a model file with damaged structure is read, or refused, without harm") {
    const std::string whole = file_bytes("landmarks_lite.tflite");
    std::mt19937 random{7};
    std::size_t refused = 0;
    for (int round = 0; round < 60; ++round) {
        std::string bytes = whole;
        // The structure lies at both ends of the file; the middle is weights, where damage is only a wrong number.
        for (int i = 0; i < 4; ++i) {
            const std::size_t at = random() % 40000;
            const std::size_t where = i % 2 == 0 ? at : bytes.size() - 1 - at;
            bytes[where] = static_cast<char>(random());
        }
        const auto model = NetworkModel::from_bytes(std::move(bytes));
        if (!model) {
            ++refused;
            CHECK_FALSE(model.error().detail.empty());
            continue;
        }
        // What is accepted must also be safe to run.
        auto network = Network::build(*model, {(*model)->graph().outputs[0]});
        if (network && round % 10 == 0) (void)network->run().has_value();
    }
    CHECK(refused > 0);
}

TEST_CASE("a missing model says how to get it") {
    const test::TemporaryFolder folder;
    const auto models = load_models(ModelSize::full, folder.path());
    REQUIRE_FALSE(models);
    CHECK(models.error().code == ErrorCode::missing_part);
    CHECK(models.error().detail.find("third_party/setup.sh") != std::string::npos);
}

TEST_CASE("a small network gives the numbers worked out by hand") {
    // Input 4 x 4 x 3, all 0.25 -> border of zeros right and below -> 3 x 3 convolution, stride 2, weights 0.5 (half
    // precision), bias +-0.1, two channels: 3.375 x {1, 2/3, 2/3, 4/9} + bias -> depthwise 3 x 3 of 0.1 with SAME
    // border (a tenth of each channel's sum) and the same bias, added -> maximum -> enlarged to 2 x 2 -> logistic -> 8
    // in a row.
    auto bytes =
        read_file(std::filesystem::path{QUARTERTURN_SOURCE_DIR} / "tests/fuzz/corpus/tflite/small_network.tflite");
    REQUIRE(bytes);
    const auto model = NetworkModel::from_bytes(std::move(bytes).value());
    REQUIRE(model);
    auto network = Network::build(*model, (*model)->graph().outputs);
    REQUIRE(network);
    for (float& value : network->input()) value = 0.25F;
    REQUIRE(network->run());
    const auto output = network->output(0);
    REQUIRE(output.size() == 8);
    const auto expected = [](double bias) {
        const double peak = 3.375 + bias;
        const double sum = 3.375 * (1 + 2.0 / 3 + 2.0 / 3 + 4.0 / 9) + 4 * bias;
        return 1 / (1 + std::exp(-(peak + sum / 10 + bias)));
    };
    for (std::size_t i = 0; i < 8; ++i) {
        CHECK(static_cast<double>(output[i]) == doctest::Approx(expected(i % 2 == 0 ? 0.1 : -0.1)).epsilon(1e-5));
    }
}

TEST_CASE("an output that does not exist is refused") {
    for (const int tensor : {-1, 0, 100000}) CHECK_FALSE(Network::build(full_models().landmarks, {tensor}));
}
