#include "script.hpp"

#include <doctest.h>

#include "routine.hpp"

using namespace quarterturn;
using namespace quarterturn::sample;

namespace {

std::string complaint(const std::string& text) {
    const Result<Script> script = parse_script(text);
    return script ? "" : script.error().detail;
}
std::string with_steps(const std::string& steps) {
    return R"({"format":"quarterturn.script","version":1,"steps":[)" + steps + "]}";
}

}  // namespace

TEST_CASE("a script that is not one is refused with the reason") {
    CHECK(complaint("[") == "The script is not valid JSON.");
    CHECK(complaint("{}").find("\"format\" must be") != std::string::npos);
    CHECK(complaint(R"({"format":"quarterturn.script","version":1})") == "Script: steps is missing.");
    const Result<Script> newer = parse_script(R"({"format":"quarterturn.script","version":2})");
    REQUIRE(!newer);
    CHECK(newer.error().code == ErrorCode::newer_version);
}

TEST_CASE("a wrong field is named by its place") {
    CHECK(complaint(with_steps(R"({"do":"stand","hold_s":-1})")) ==
          "Script: steps[0].hold_s must be a number from 0.1 to 180.");
    CHECK(complaint(with_steps(R"({"do":"stand"},{"do":"pose","pose":"handstand"})"))
              .find("steps[1].pose must be one of") != std::string::npos);
    CHECK(complaint(with_steps(R"({"do":"stand","colour":"red"})")) ==
          "Script: steps[0].colour is not a field of this format.");
    CHECK(complaint(with_steps(R"({"do":"pose","pose":"vacuum","disturb":[{"kind":"sway"}]})")) ==
          "Script: steps[0].disturb[0].cm is missing.");
    CHECK(complaint(with_steps(R"({"do":"walk_out"})")).find("must begin with") != std::string::npos);
}

TEST_CASE("what a script says is what is read") {
    const Script script = script_of(
        R"({"do":"stand"},{"do":"pose","pose":"side_chest","side":"right","hold_s":4.5,"turn":"left","turn_steps":3,)"
        R"("disturb":[{"kind":"fidget_hand","cm":2,"hz":1.5,"arm":"both"}]})",
        R"("body":{"sex":"male","height_cm":181,"skin":"#ff8000"},"film":{"rotation":"right","recorded_at":"2026-03-07T08:30:00Z"},)");
    CHECK(script.body.sex == Sex::male);
    CHECK(script.body.height_m == doctest::Approx(1.81));
    CHECK(script.body.skin[1] == doctest::Approx(128 / 255.0));
    CHECK(script.film.rotation_deg == -90);
    CHECK(script.film.recorded_at.has_value());
    const Step& step = script.steps.at(1);
    CHECK(step.pose.side == "right");
    CHECK(step.turn_right == std::optional(false));
    CHECK(step.turn_steps == std::optional(3));
    REQUIRE(step.disturb.size() == 1);
    CHECK(step.disturb[0].kind == Wobble::fidget_hand);
    CHECK(step.disturb[0].arm == 2);
}
