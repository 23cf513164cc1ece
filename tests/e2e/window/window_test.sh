#!/usr/bin/env bash
# The window as a person uses it, with real key and mouse events on a screen of its own: opens a library, plays, steps,
# seeks, pins a note with text, drags a hold's end, marks the checklist, undoes, quits, opens again. What counts is what
# lies on disk afterwards.
# Then how a clip was filmed, who the athlete is and which session it belongs to, each undone.
# usage: window_test.sh WINDOW_PROGRAM FILM EARLIER_FILM
set -u
program=$1
film=$2
earlier=$3
work=$(mktemp -d)
export HOME=$work XDG_CONFIG_HOME=$work/config XDG_DATA_HOME=$work/data SDL_AUDIODRIVER=dummy LIBGL_ALWAYS_SOFTWARE=1
library=$work/library
pids=()
finish() {
  for pid in "${pids[@]}"; do kill "$pid" 2>/dev/null; done
  rm -rf "$work"
}
trap finish EXIT
fail() { echo "FAILED: $1"; [ -n "${DISPLAY:-}" ] && import -window root "${TMPDIR:-/tmp}/quarterturn_window_test.png" 2>/dev/null; exit 1; }

# A free display: Xvfb says which one it took.
mkfifo "$work/display.fifo" && exec 3<>"$work/display.fifo"
Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp >/dev/null 2>&1 &
pids+=($!)
read -r -t 60 number <&3 || fail "no screen"
export DISPLAY=:$number

# wait_for SECONDS COMMAND...: until it succeeds
wait_for() {
  local end=$((SECONDS + $1))
  shift
  until "$@" >/dev/null 2>&1; do
    [ $SECONDS -lt $end ] || return 1
    sleep 0.2
  done
}
on_disk() { grep -rqs --include='*.json' "$1" "$library"; }
not_on_disk() { ! on_disk "$1"; }
open_window() {
  "$program" --library "$library" --size 1280x800 2>"$work/errors" &
  window=$!
  pids+=("$window")
  wait_for 60 xdotool search --name '^quarterturn$' || fail "no window: $(cat "$work/errors")"
  wait_for 60 colour_at 1062 15 '#00659E' || fail "the library page did not come"
}
colour_at() { [ "$(import -window root -crop 1x1+"$1"+"$2" -depth 8 txt:- | grep -o '#[0-9A-F]\{6\}' | tail -1)" = "$3" ]; }
not_colour_at() { ! colour_at "$@"; }
press() { xdotool key --delay 40 "$@"; sleep 0.4; }

"$program" --make "$library" "$film" "$earlier" || fail "the library could not be made"
open_window
xdotool mousemove 470 126 click 1
wait_for 60 colour_at 1014 15 '#00659E' || fail "the clip did not open"
wait_for 60 not_colour_at 430 300 '#1F242C' || fail "no picture on the stage"

# play, pause, step, seek by the ribbon and by key
press space; sleep 1; press space
press Right Right Left
xdotool mousemove 300 700 click 1; sleep 0.5
press Home
press h; press h

# a note with text, typed at once
press n
xdotool type --delay 60 'Shoulders down, slow hands'
wait_for 20 on_disk 'Shoulders down, slow hands' || fail "the note is not on disk"
press ctrl+Return

# a mark on the checklist of the open card
press c
press 3
wait_for 20 on_disk '"value": 3' || fail "the mark is not on disk"

# the end of the chosen hold is moved: by the mouse on the ribbon
block_end() { # the rightmost column of the white frame round the chosen hold
  import -window root -crop 860x40+14+718 -depth 8 txt:- | grep -i '#F2EEE6' | sed 's/,.*//' | sort -n | tail -1
}
end=$(block_end)
[ -n "$end" ] || fail "no hold is chosen on the ribbon"
x=$((14 + end - 2))
xdotool mousemove "$x" 738 sleep 0.3 mousedown 1 sleep 0.3 mousemove $((x - 8)) 738 sleep 0.2 mousemove $((x - 16)) 738 sleep 0.3 mouseup 1
wait_for 20 on_disk '"kind": "bounds"' || fail "the hold's new end is not on disk"

# undo takes it back, redo brings it again
press ctrl+z
wait_for 20 on_disk '"removed": true' || fail "undo is not on disk"
press ctrl+shift+z
wait_for 20 not_on_disk '"removed": true' || fail "redo is not on disk"

# quit and open again: everything is there
kill -KILL "$window"; wait "$window" 2>/dev/null
open_window
xdotool mousemove 470 126 click 1
sleep 3
on_disk 'Shoulders down, slow hands' || fail "the note was lost"
on_disk '"value": 3' || fail "the mark was lost"
on_disk '"kind": "bounds"' || fail "the correction was lost"

# how the clip was filmed, by keys and by the mouse; each time what lies on disk, and undone
# clip FILE KEY: what the library says about a film, as JSON
clip() {
  node -e '
    const fs = require("fs"), path = require("path"), [folder, name, key] = process.argv.slice(1);
    const clips = fs.readdirSync(folder).map(f => JSON.parse(fs.readFileSync(path.join(folder, f))));
    const clip = clips.find(c => c.original_name === name && !c.removed);
    console.log(JSON.stringify(key.split(".").reduce((at, k) => at?.[k], clip) ?? null));
  ' "$library/journal/clips" "$(basename "$1")" "$2"
}
clip_is() { [ "$(clip "$film" "$1")" = "$2" ]; }
clip_near() { node -e 'process.exit(Math.abs(process.argv[1] - process.argv[2]) < 0.01 ? 0 : 1)' "$(clip "$film" "$1")" "$2"; }
press Escape Escape Escape
wait_for 20 colour_at 767 67 '#00659E' || fail "the mark does not say that the clip is measured"
press period period period
wait_for 20 clip_is tilt_deg 1.5 || fail "the tilt is not on disk"
# the full disc beside "Measured" is open above now
wait_for 20 not_colour_at 767 67 '#00659E' || fail "the mark does not say that the clip was set otherwise"
press ctrl+z
wait_for 20 clip_is tilt_deg 1 || fail "undoing the tilt is not on disk"
press f
xdotool mousemove 1053 245 sleep 0.3 click 1 # five degrees right
wait_for 20 clip_is tilt_deg 6 || fail "the tilt set by the mouse is not on disk"
press ctrl+z ctrl+z ctrl+z
wait_for 20 clip_is tilt_deg null || fail "undoing all of the tilt is not on disk"
press q q
wait_for 20 clip_is rotation_deg 90 || fail "the rotation is not on disk"
wait_for 20 colour_at 300 100 '#1F242C' || fail "the picture does not lie on its side"
xdotool mousemove 1158 175 sleep 0.3 click 1 # a quarter to the right
wait_for 20 clip_is rotation_deg -90 || fail "the rotation set by the mouse is not on disk"
press ctrl+z ctrl+z ctrl+z
wait_for 20 clip_is rotation_deg null || fail "undoing the rotation is not on disk"
press s
wait_for 20 clip_is time_scale 0.5 || fail "the slow motion is not on disk"
xdotool mousemove 882 349 sleep 0.3 click 1 # a quarter
wait_for 20 clip_is time_scale 0.25 || fail "the slow motion set by the mouse is not on disk"
clip_is speed_source '"given"' || fail "who set the slow motion is not on disk"
press ctrl+z ctrl+z
wait_for 20 clip_is time_scale 1 || fail "undoing the slow motion is not on disk"
press shift+x
wait_for 20 clip_is mirrored true || fail "the mirrored film is not on disk"
press ctrl+z
wait_for 20 clip_is mirrored false || fail "undoing the mirrored film is not on disk"

# who the athlete is: a press in the middle of the picture, then by keys, undone
press Home v
xdotool mousemove 430 329 sleep 0.3 click 1
wait_for 20 clip_near athlete_at.x 0.5 || fail "the athlete is not on disk"
clip_near athlete_at.y 0.5 || fail "the athlete is somewhere else on disk"
press ctrl+z
wait_for 20 clip_is athlete_at null || fail "undoing the athlete is not on disk"
press v Right Right Down space
wait_for 20 clip_near athlete_at.x 0.571 || fail "the athlete shown by keys is not on disk"
clip_near athlete_at.y 0.52 || fail "the athlete shown by keys is somewhere else on disk"
press ctrl+z
wait_for 20 clip_is athlete_at null || fail "undoing the athlete is not on disk"

# to a session of the earlier season by keys, back by undo, there again by the mouse
here=$(clip "$film" session)
there=$(clip "$earlier" session)
press ctrl+l alt+m alt+Down Return
wait_for 20 clip_is session "$there" || fail "the moved clip is not on disk"
press ctrl+z
wait_for 20 clip_is session "$here" || fail "undoing the move is not on disk"
press alt+Page_Down alt+Page_Down
xdotool mousemove 1092 123 sleep 0.3 click 1 sleep 1 mousemove 440 206 sleep 0.3 click 1
wait_for 20 clip_is session "$there" || fail "the clip moved by the mouse is not on disk"
grep -rqs "\"session\": $there" "$library/journal/notes" || fail "the clip's notes did not go along"
press ctrl+z
wait_for 20 clip_is session "$here" || fail "undoing the move is not on disk"

# the last of them stay over closing and opening
press ctrl+o
press period s
wait_for 20 clip_is time_scale 0.5 || fail "the settings are not on disk"
kill -KILL "$window"; wait "$window" 2>/dev/null
open_window
xdotool mousemove 470 126 click 1
sleep 3
clip_is tilt_deg 0.5 || fail "the tilt was lost"
clip_is time_scale 0.5 || fail "the slow motion was lost"
clip_is session "$here" || fail "the session was lost"
press shift+comma s s s # as it was: measured already
wait_for 20 clip_is tilt_deg null || fail "the tilt cannot be taken back"
wait_for 20 clip_is time_scale 1 || fail "the slow motion cannot be taken back"

# beside the earlier season: its film is measured and compared, both are on the stage, looked at in every way and played
press F9
wait_for 20 colour_at 940 15 '#00659E' || fail "the page with two takes did not come"
wait_for 240 not_colour_at 500 300 '#1F242C' || fail "the earlier picture did not come"
press alt+2; press alt+3; press alt+4; press alt+5; press alt+1
press space; sleep 1; press space
press h; press ctrl+Right

# two moments are pinned together, undone and pinned again; a pair is corrected
press m
wait_for 20 on_disk '"kind": "moments"' || fail "the pin is not on disk"
press ctrl+m
wait_for 20 on_disk '"kind": "holds"' || fail "the corrected pair is not on disk"
press ctrl+z
pins_removed() { grep -rqs '"removed": true' "$library/journal/pins"; }
wait_for 20 pins_removed || fail "undoing the pair is not on disk"
kill -0 "$window" || fail "the window has ended by itself"

find "$library" -name '*.json' -print0 | xargs -0 -n1 node -e 'JSON.parse(require("fs").readFileSync(process.argv[1]))' || fail "a document is not JSON"
echo "the window keeps what it was told"
