/// Our landmarks against those of the network's original package, run by its own WebAssembly in a browser on the same
/// stills (landmarks/make_reference.mjs made landmarks/reference.json).
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "body/landmarks.hpp"
#include "body/model_files.hpp"
#include "body/person_detector.hpp"
#include "film.hpp"

using namespace quarterturn;
using namespace quarterturn::body;
using nlohmann::json;

namespace {

const std::filesystem::path root{QUARTERTURN_SOURCE_DIR};

json load(const char* name) {
    const auto text = read_file(root / "tests/reference/landmarks" / name);
    REQUIRE_MESSAGE(text, text.error().detail);
    json document = json::parse(*text, nullptr, false);
    REQUIRE_FALSE(document.is_discarded());
    return document;
}

/// Mean colours of 6 x 6 blocks, as the reference page computes them.
std::array<std::array<double, 3>, 36> blocks_of(const media::Image& image) {
    std::array<std::array<double, 4>, 36> sums{};
    for (int y = 0; y < image.height; ++y) {
        for (int x = 0; x < image.width; ++x) {
            auto& sum = sums[static_cast<std::size_t>(y * 6 / image.height * 6 + x * 6 / image.width)];
            for (std::size_t c = 0; c < 3; ++c) {
                sum[c] += image.samples[static_cast<std::size_t>(y * image.width + x) * 3 + c];
            }
            sum[3] += 1;
        }
    }
    std::array<std::array<double, 3>, 36> means{};
    for (std::size_t i = 0; i < 36; ++i) {
        for (std::size_t c = 0; c < 3; ++c) means[i][c] = sums[i][c] / sums[i][3];
    }
    return means;
}

void check_same_picture(const media::Image& image, const json& reference) {
    REQUIRE(image.width == reference["width"].get<int>());
    REQUIRE(image.height == reference["height"].get<int>());
    const auto means = blocks_of(image);
    for (std::size_t i = 0; i < 36; ++i) {
        for (std::size_t c = 0; c < 3; ++c) {
            const bool same = std::abs(means[i][c] - reference["blocks"][i][c].get<double>()) < 2;
            REQUIRE_MESSAGE(same,
                            "the still is drawn differently now: run tests/reference/landmarks/make_reference.mjs");
        }
    }
}

Body our_body(const media::Image& image, PersonDetector& detector, LandmarkNetwork& network) {
    const PictureView view{image};
    const auto people = detector.find(view);
    REQUIRE(people);
    REQUIRE_FALSE(people->empty());
    const auto reading = network.read(view, people->front().region);
    REQUIRE(reading);
    return reading->body;
}

/// Distances of the 13 main joints, % of the height the reference's points span.
std::vector<double> distances(const Body& body, const json& reference) {
    const double width = reference["width"].get<double>();
    const double height = reference["height"].get<double>();
    double top = 1;
    double bottom = 0;
    for (const json& point : reference["landmarks"]) {
        top = std::min(top, point[1].get<double>());
        bottom = std::max(bottom, point[1].get<double>());
    }
    std::vector<double> all;
    for (const Joint joint : main_joints) {
        const json& point = reference["landmarks"][static_cast<std::size_t>(joint)];
        const double dx = static_cast<double>(body[joint].x) - point[0].get<double>() * width;
        const double dy = static_cast<double>(body[joint].y) - point[1].get<double>() * height;
        all.push_back(std::hypot(dx, dy) / ((bottom - top) * height) * 100);
    }
    return all;
}

double median_of(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    return values[values.size() / 2];
}

}  // namespace

TEST_CASE("joints agree with the original package: median over the main joints within 0.7 % of body height") {
    auto models = load_models(ModelSize::full);
    REQUIRE_MESSAGE(models, models.error().detail);
    auto detector = PersonDetector::create(models->detector);
    auto network = LandmarkNetwork::create(models->landmarks);
    REQUIRE(detector);
    REQUIRE(network);
    const json stills = load("stills.json");
    const json reference = load("reference.json")["stills"];
    REQUIRE(stills.size() == reference.size());
    REQUIRE(stills.size() >= 10);
    std::vector<double> all;
    double worst = 0;
    for (std::size_t i = 0; i < stills.size(); ++i) {
        const auto name = stills[i]["name"].get<std::string>();
        CAPTURE(name);
        REQUIRE(reference[i]["name"] == name);
        const auto script = sample::load_script(root / "sample_clips/scripts" / stills[i]["script"].get<std::string>());
        REQUIRE(script);
        const media::Image image = sample::still(*script, stills[i]["second"].get<double>());
        check_same_picture(image, reference[i]);
        const auto found = distances(our_body(image, *detector, *network), reference[i]);
        CHECK(median_of(found) <= 0.7);
        worst = std::max(worst, median_of(found));
        all.insert(all.end(), found.begin(), found.end());
    }
    MESSAGE(stills.size() << " stills: median " << median_of(all) << " % of body height, worst still " << worst);
    CHECK(median_of(all) <= 0.4);
}
