#!/usr/bin/env bash
# Makes the pictures of the window in docs/pictures: every page at 1280x800, the clip page also at 1920x1080 and at
# 3840x2160 with scale 2.
# usage: make_pictures.sh WINDOW_PROGRAM FILM FOLDER EARLIER_FILM
set -eu
program=$1
film=$2
out=$3
earlier=$4
mkdir -p "$out"
work=$(mktemp -d)
export HOME=$work XDG_CONFIG_HOME=$work/config XDG_DATA_HOME=$work/data SDL_AUDIODRIVER=dummy LIBGL_ALWAYS_SOFTWARE=1
pids=()
finish() { for pid in "${pids[@]}"; do kill "$pid" 2>/dev/null || true; done; rm -rf "$work"; }
trap finish EXIT
"$program" --make "$work/library" "$film" "$earlier"

# shoot WIDTHxHEIGHT SCALE PREFIX: opens the window there and walks through it
shoot() {
  local size=$1 scale=$2 prefix=$3 number
  rm -f "$work/display"; mkfifo "$work/display"; exec 3<>"$work/display"
  Xvfb -displayfd 3 -screen 0 "${size}x24" -nolisten tcp >/dev/null 2>&1 &
  local screen=$!
  pids+=("$screen")
  read -r -t 60 number <&3
  export DISPLAY=:$number
  "$program" --library "$work/library" --size "$size" --scale "$scale" 2>/dev/null &
  local window=$!
  pids+=("$window")
  sleep 8
  picture() { sleep 2; import -window root "$out/$prefix$1.png"; }
  at() { xdotool mousemove $(($1 * ${scale%.*})) $(($2 * ${scale%.*})) click "${3:-1}"; }
  [ "$prefix" = page_ ] && picture library
  at 470 126; sleep 4
  picture clip
  xdotool key h; sleep 1; xdotool key h; sleep 1; xdotool key h; sleep 1
  picture notes
  xdotool key c; sleep 1
  [ "$prefix" = page_ ] && {
    picture checklist
    xdotool key F1; picture keys
    xdotool key F10; picture settings
    xdotool key Escape; sleep 1; xdotool key F11; picture full_screen; xdotool key F11
  }
  # The first time the earlier film is measured; then it is in the cache.
  xdotool key F9; sleep "$compare"; compare=6
  picture pair
  [ "$prefix" = page_ ] && {
    xdotool key alt+3; picture pair_edge
    xdotool key alt+4; sleep 2; picture pair_outline
    xdotool key F8; picture pair_choice
  }
  kill "$window"; wait "$window" 2>/dev/null || true
  kill "$screen"; wait "$screen" 2>/dev/null || true
}
compare=60
shoot 1280x800 1 page_
shoot 1920x1080 1 large_
shoot 3840x2160 2 sharp_
