#!/usr/bin/env bash
# All tests: style, everyday build and tests, thread sanitizer, fuzz targets, address sanitizer. The window is used at
# random for a quarter of a minute, and for half a minute under each sanitizer. Stops at the first stage that fails.
# Where CI is set, stages for which 25 minutes (two of them for the set-up before) do not suffice are left out, and said
# to be; the longest therefore come last.
# The benchmarks (tests/bench) are run by hand: their numbers need a quiet machine.
set -eu
cd "$(dirname "$0")/.."
skipped=0

# stage NAME MINUTES COMMAND...: MINUTES is what it may need on two cores with nothing compiled before.
stage() {
  local name=$1 minutes=$2
  shift 2
  if [ -n "${CI:-}" ] && [ $((SECONDS / 60 + minutes)) -gt 23 ]; then
    printf '\n== SKIPPED after %d min, it may need %d: %s. Run tests/all.sh without CI set.\n' $((SECONDS / 60)) "$minutes" "$name"
    skipped=$((skipped + 1))
    return
  fi
  printf '\n== %s (after %d s)\n' "$name" "$SECONDS"
  "$@"
}

build() {  # preset targets...
  local preset=$1
  shift
  cmake --preset "$preset" >/dev/null
  cmake --build --preset "$preset" ${@:+--target "$@"}
}

everyday() { build dev && build dev all_verify_interface_header_sets && ctest --preset dev; }
# Left out here: what measures whole films (label long); its parts are all tested by themselves.
addresses() { build asan && ctest --preset asan -LE long; }
threads() { build tsan media_tests journal_tests && ctest --preset tsan -L '^(media|journal)$'; }
window_threads() { build tsan app_tests random_use && ctest --preset tsan -L '^(app|random_use)$'; }
fuzzing() { build fuzz fuzz_targets && tests/fuzz/short_run.sh build/fuzz ${CI:+6}; }

stage "style" 1 tests/style_test.sh
stage "everyday build and tests, every header on its own" 16 everyday
stage "thread sanitizer over media and journal" 4 threads
stage "fuzz targets, a short run each" 4 fuzzing
stage "address and undefined-behaviour sanitizers" 16 addresses
stage "thread sanitizer over the window, used at random" 12 window_threads

printf '\nAll stages passed after %d s' "$SECONDS"
[ "$skipped" -eq 0 ] && printf '.\n' || printf '; %d were SKIPPED, see above.\n' "$skipped"
