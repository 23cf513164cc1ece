#!/usr/bin/env bash
# Lets every fuzz target of a build tree (preset fuzz) search for a short while, starting from the corpus. What it finds
# on the way is not kept; a crash, a leak or a hang fails and leaves the input in the build tree.
# usage: short_run.sh BUILD_FOLDER [SECONDS_EACH]
set -eu
build=$1
seconds=${2:-15}
here=$(cd "$(dirname "$0")" && pwd)
found=0
for program in "$build"/bin/*_fuzz; do
  [ -x "$program" ] || continue
  found=$((found + 1))
  target=$(basename "$program" _fuzz)
  scratch=$(mktemp -d)
  printf '== fuzz %s for %s s\n' "$target" "$seconds"
  status=0
  "$program" -max_total_time="$seconds" -max_len=65536 -timeout=25 -rss_limit_mb=3000 -print_final_stats=1 \
    -artifact_prefix="$build/fuzz-$target-" "$scratch" "$here/corpus/$target" >"$build/fuzz-$target.log" 2>&1 || status=$?
  grep -E 'number_of_executed' "$build/fuzz-$target.log" || true
  rm -rf "$scratch"
  if [ "$status" -ne 0 ]; then
    tail -40 "$build/fuzz-$target.log"
    echo "fuzz $target failed with $status"
    exit 1
  fi
done
[ "$found" -gt 0 ] || { echo "no fuzz target in $build/bin"; exit 1; }
