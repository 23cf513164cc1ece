#!/usr/bin/env bash
# Makes the pictures of the window for docs/pictures (1280x800, light). With `look` instead it takes every page at
# 1280x800, 1920x1080 and 3840x2160 with scale 2, light and dark, to be looked at.
# usage: make_pictures.sh WINDOW_PROGRAM FILM FOLDER EARLIER_FILM [look]
set -eu
program=$1
film=$2
out=$3
earlier=$4
mkdir -p "$out"
work=$(mktemp -d)
export HOME=$work XDG_CONFIG_HOME=$work/.config XDG_DATA_HOME=$work/data SDL_AUDIODRIVER=dummy LIBGL_ALWAYS_SOFTWARE=1
pids=()
finish() { for pid in "${pids[@]}"; do kill "$pid" 2>/dev/null || true; done; rm -rf "$work"; }
trap finish EXIT
"$program" --make "$work/library" "$film" "$earlier"

# open_screen WIDTHxHEIGHT THEME: a screen of its own, and the settings for the window on it
open_screen() {
  local number
  mkdir -p "$XDG_CONFIG_HOME/quarterturn"
  echo "{\"format\": \"quarterturn.settings\", \"version\": 1, \"theme\": \"$2\"}" >"$XDG_CONFIG_HOME/quarterturn/settings.json"
  rm -f "$work/display"; mkfifo "$work/display"; exec 3<>"$work/display"
  Xvfb -displayfd 3 -screen 0 "${1}x24" -nolisten tcp >/dev/null 2>&1 &
  screen=$!
  pids+=("$screen")
  read -r -t 60 number <&3
  export DISPLAY=:$number
}
# open_window WIDTHxHEIGHT SCALE OPTION...
open_window() {
  "$program" --size "$1" --scale "$2" "${@:3}" 2>/dev/null &
  window=$!
  pids+=("$window")
  timeout 60 xdotool search --sync --name '^quarterturn$' >/dev/null
  sleep 5
}
close_window() {
  kill "$window" "$screen"
  wait "$window" "$screen" 2>/dev/null || true
}
# shoot_start WIDTHxHEIGHT SCALE THEME PREFIX: the first start, without a library
shoot_start() {
  open_screen "$1" "$3"
  open_window "$1" "$2"
  import -window root "$out/${4}start.png"
  close_window
}
# shoot WIDTHxHEIGHT SCALE THEME PREFIX PAGE...: opens the window there, walks through it and keeps the named pages
shoot() {
  local size=$1 scale=$2 theme=$3 prefix=$4
  shift 4
  local wanted=" $* "
  open_screen "$size" "$theme"
  open_window "$size" "$scale" --library "$work/library"
  picture() { case "$wanted" in *" $1 "*) sleep 2; import -window root "$out/$prefix$1.png" ;; esac; }
  at() { xdotool mousemove $(($1 * scale)) $(($2 * scale)) sleep 0.2 click 1; sleep 0.5; }
  press() { for key in "$@"; do xdotool key "$key"; sleep 0.7; done; }
  picture library
  press alt+Down alt+m
  picture moving
  press Escape
  at 470 126; sleep 4
  picture clip
  press h h
  at 56 86; at 56 117; at 56 148; at 56 178; xdotool mousemove $((640 * scale)) $((20 * scale)); sleep 3
  picture over
  at 56 86; at 56 117; at 56 148; at 56 178; xdotool mousemove $((640 * scale)) $((20 * scale))
  picture notes
  press c
  picture checklist
  press f
  picture filmed
  press v
  picture athlete
  press Escape f
  press F1
  picture keys
  press F10
  picture settings
  press Escape F11
  picture full_screen
  press F11
  # The first time the earlier film is measured; then it is in the cache.
  press F9; sleep "$compare"; compare=6
  picture pair
  press alt+3
  picture pair_edge
  press alt+4; sleep 2
  picture pair_outline
  press F8
  picture pair_choice
  close_window
}
compare=60
if [ "${5:-}" = look ]; then
  for theme in light dark; do
    for place in "1280x800 1" "1920x1080 1" "3840x2160 2"; do
      # shellcheck disable=SC2086
      shoot $place $theme "${place%% *}_${theme}_" library moving clip over notes checklist filmed athlete keys settings full_screen pair pair_edge pair_outline pair_choice
      # shellcheck disable=SC2086
      shoot_start $place $theme "${place%% *}_${theme}_"
    done
  done
else
  shoot 1280x800 1 light page_ library moving over notes checklist filmed keys pair pair_edge pair_outline pair_choice
fi
