#!/usr/bin/env bash
# Formatting by .clang-format, every test file with a test in it, and no unfinished words in what ships.
set -u
cd "${1:-$(dirname "$0")/..}" || exit 2
failures=0

mapfile -t sources < <(git ls-files 'src/*.cpp' 'src/*.hpp' 'tests/*.cpp' 'tests/*.hpp' 'sample_clips/*.cpp' 'sample_clips/*.hpp')
if ! clang-format --dry-run -Werror "${sources[@]}" 2>/tmp/quarterturn-style.$$; then
  grep -E 'error:' /tmp/quarterturn-style.$$ | cut -d: -f1 | sort | uniq -c | head -20
  echo "formatting: run clang-format -i on the files above"
  failures=$((failures + 1))
fi
rm -f /tmp/quarterturn-style.$$

for test in $(git ls-files 'tests/*_test.cpp'); do
  grep -qE 'TEST_CASE' "$test" || { echo "$test holds no test"; failures=$((failures + 1)); }
done

if git grep -nwIE 'TO''DO|FIX''ME|X''XX' -- src tests sample_clips docs '*.md'; then
  echo "unfinished words above"
  failures=$((failures + 1))
fi

[ "$failures" -eq 0 ] && echo "style holds" && exit 0
exit 1
