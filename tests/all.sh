#!/usr/bin/env bash
# All tests, cheapest first: style, everyday build, address and thread sanitizers, fuzz corpora. Stops at the first
# stage that fails. The benchmarks (tests/bench) are run by hand: their numbers need a quiet machine.
set -eu
cd "$(dirname "$0")/.."
started=$SECONDS
stage() { printf '\n== %s (after %d s)\n' "$1" $((SECONDS - started)); }

stage "style"
tests/style_test.sh

stage "everyday build, every header on its own"
cmake --preset dev
cmake --build --preset dev
cmake --build --preset dev --target all_verify_interface_header_sets

stage "address and undefined-behaviour sanitizers: build"
cmake --preset asan
cmake --build --preset asan

stage "thread sanitizer: build"
cmake --preset tsan
cmake --build --preset tsan --target media_tests journal_tests

stage "fuzz targets: build with clang, a short run each"
cmake --preset fuzz
cmake --build --preset fuzz --target fuzz_targets
tests/fuzz/short_run.sh build/fuzz

stage "tests under the thread sanitizer"
ctest --preset tsan -L 'media|journal'

stage "tests under the address and undefined-behaviour sanitizers"
ctest --preset asan

stage "tests, everyday build"
ctest --preset dev
