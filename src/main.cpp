/// `quarterturn` alone and `quarterturn FILM` open the window; everything else is the command line.
#include <cstdlib>
#include <filesystem>
#include <string>

#include "app/app.hpp"
#include "cli/cli.hpp"
#include "share/demo_library.hpp"

namespace {

using namespace quarterturn;

bool has_screen() {
    const auto is_set = [](const char* name) {
        const char* value = std::getenv(name);
        return value != nullptr && *value != '\0';
    };
    return is_set("DISPLAY") || is_set("WAYLAND_DISPLAY");
}

bool is_film(const char* argument) {
    std::error_code failure;
    return argument[0] != '-' && std::filesystem::is_regular_file(argument, failure);
}

Status make_demo(const std::filesystem::path& folder, const std::function<void(double)>& progress,
                 const std::stop_token& stop) {
    const auto store = share::demo_library(folder, share::sample_clips_folder(), stop);
    if (!store) return store.error();
    progress(1);
    return ok();
}

}  // namespace

int main(int argc, char** argv) {
    const bool asks_for_window = argc == 1 || (argc == 2 && is_film(argv[1]));
    if (!asks_for_window || !has_screen()) return cli::run(argc, argv);
    app::AppOptions options;
    if (argc == 2) options.clip = argv[1];
    if (!share::sample_clips_folder().empty()) options.make_demo = make_demo;
    return app::run(options);
}
