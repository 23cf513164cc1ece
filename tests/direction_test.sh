#!/usr/bin/env bash
# Keeps the rooms' direction: a room includes only itself and the rooms listed for it; only `media` includes libav, only
# `app` the window libraries, only `body` the network's. Prints every line that breaks it.
set -u
cd "${1:-$(dirname "$0")/..}/src" || exit 2

declare -A may=(
  [base]=""
  [rules]="base"
  [media]="base"
  [body]="base media"
  [posing]="base rules body"
  [journal]="base rules"
  [compare]="base rules media body posing"
  [progress]="base rules journal"
  [share]="base rules media body posing journal compare progress"
  [app]="base rules media body posing journal compare progress share"
  [cli]="base rules media body posing journal compare progress share"
)
declare -A only=(
  ['libav|libsw']="media"
  ['imgui']="app/views app/window"
  ['GLFW|GL/']="app/window"
  ['SDL']="app"
  ['xnnpack|flatbuffers|pthreadpool']="body"
  ['CLI/']="cli"
  ['opencv2/']="body posing compare"
  ['nlohmann/']="rules posing journal compare share app cli"
  ['boost/math']="progress"
)

failures=0
complain() { printf '%s\n' "$1"; failures=$((failures + 1)); }

for folder in */; do
  room=${folder%/}
  [ -n "${may[$room]+known}" ] || { complain "src/$room is not a room of this list"; continue; }
  allowed=$(printf '%s' "$room ${may[$room]}" | tr ' ' '|')
  rooms=$(printf '%s|' "${!may[@]}")
  while IFS= read -r line; do
    [ -n "$line" ] && complain "src/$line: $room may not include that room"
  done < <(grep -rnE "#include \"(${rooms%|})/" "$room" | grep -vE "#include \"($allowed)/")
done
for library in "${!only[@]}"; do
  allowed=$(printf '%s' "${only[$library]}" | tr ' ' '|')
  while IFS= read -r line; do
    [ -n "$line" ] && complain "src/$line: only ${only[$library]} may include that library"
  done < <(grep -rnE "#include [<\"]($library)" . | sed 's|^\./||' | grep -vE "^($allowed)/")
done

[ "$failures" -eq 0 ] && echo "the rooms' direction holds" && exit 0
echo "$failures broken"
exit 1
