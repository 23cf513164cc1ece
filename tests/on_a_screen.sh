#!/usr/bin/env bash
# Runs a command on a screen of its own (Xvfb, Mesa's software renderer). The screen ends with it.
# usage: on_a_screen.sh COMMAND...
set -u
work=$(mktemp -d)
screen=
finish() {
  [ -n "$screen" ] && kill "$screen" 2>/dev/null
  rm -rf "$work"
}
trap finish EXIT
trap 'exit 143' TERM INT
# Xvfb takes a free display and says which one. Without -noreset it starts over whenever the last window closes.
mkfifo "$work/display" && exec 3<>"$work/display"
Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp -noreset >"$work/log" 2>&1 3>&3 &
screen=$!
read -r -t 60 number <&3 || { echo "no screen: $(cat "$work/log")" >&2; exit 1; }
DISPLAY=:$number LIBGL_ALWAYS_SOFTWARE=1 "$@" 3>&-
