/// Draws a script as a film or a still, or writes what is true of it.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>

#include "base/file.hpp"
#include "film.hpp"
#include "truth.hpp"

using namespace quarterturn;

namespace {

struct Wishes {
    std::string script, film, truth, segments, still;
    double still_s = 0;
};

Status run(const Wishes& wishes) {
    const Result<sample::Script> script = sample::load_script(wishes.script);
    if (!script) return script.error();
    if (!wishes.truth.empty())
        if (Status s = write_file(wishes.truth, write_truth(*script, true_of(*script), true)); !s) return s;
    if (!wishes.segments.empty())
        if (Status s = write_file(wishes.segments, write_truth(*script, true_of(*script), false)); !s) return s;
    if (!wishes.still.empty()) {
        const Result<std::string> png = media::encode_png(sample::still(*script, wishes.still_s));
        if (!png) return png.error();
        if (Status s = write_file(wishes.still, *png); !s) return s;
    }
    if (!wishes.film.empty()) return sample::render(*script, wishes.film);
    return ok();
}

}  // namespace

int main(int argc, char** argv) {
    CLI::App app{"Draws a posing script as a film, or writes what is true of it."};
    Wishes wishes;
    app.add_option("script", wishes.script, "a script file")->required();
    app.add_option("--truth-only", wishes.truth, "write everything that is true of the film, without drawing");
    app.add_option("--segments", wishes.segments, "write the segments only");
    app.add_option("--out", wishes.film, "draw the film");
    app.add_option("--still-at", wishes.still_s, "second of the still");
    app.add_option("--still", wishes.still, "draw one picture as PNG");
    CLI11_PARSE(app, argc, argv);
    if (const Status status = run(wishes); !status) {
        fmt::print(stderr, "{}\n", status.error().detail);
        return 1;
    }
    return 0;
}
