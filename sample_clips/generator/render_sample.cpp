/// Draws a script as a film or a still, or writes what is true of it.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>

#include "base/file.hpp"
#include "truth.hpp"

using namespace quarterturn;

namespace {

struct Wishes {
    std::string script, truth, segments;
};

Status run(const Wishes& wishes) {
    const Result<sample::Script> script = sample::load_script(wishes.script);
    if (!script) return script.error();
    if (!wishes.truth.empty())
        if (Status s = write_file(wishes.truth, write_truth(*script, true_of(*script), true)); !s) return s;
    if (!wishes.segments.empty())
        if (Status s = write_file(wishes.segments, write_truth(*script, true_of(*script), false)); !s) return s;
    return ok();
}

}  // namespace

int main(int argc, char** argv) {
    CLI::App app{"Draws a posing script as a film, or writes what is true of it."};
    Wishes wishes;
    app.add_option("script", wishes.script, "a script file")->required();
    app.add_option("--truth-only", wishes.truth, "write everything that is true of the film, without drawing");
    app.add_option("--segments", wishes.segments, "write the segments only");
    CLI11_PARSE(app, argc, argv);
    if (const Status status = run(wishes); !status) {
        fmt::print(stderr, "{}\n", status.error().detail);
        return 1;
    }
    return 0;
}
