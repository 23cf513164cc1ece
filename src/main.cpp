#include "cli/cli.hpp"

int main(int argc, char** argv) {
    return quarterturn::cli::run(argc, argv);
}
