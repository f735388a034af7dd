#!/bin/bash
# A whole job in the real window, by mouse and keyboard, with a picture of the screen after every step: open a photograph,
# say how the piece lay, trace, move a station, change a shape, undo twice, redo, round to 1/32 in, print, save, die in the
# middle of an edit, come back. It ends with 1 when a file or a number is not what it should be.
#
#   testdata/session/run.sh [folder for the pictures]      needs Xvfb, openbox, xdotool, ImageMagick, unzip, python3
#
# SESSION_LANG (en_US.UTF-8) and SESSION_THEME (light, dark) choose how it looks, SESSION_PROGRAM a built program.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
top=$(cd "$here/../.." && pwd)
out=$(mkdir -p "${1:-/tmp/session}" && cd "${1:-/tmp/session}" && pwd)
work=$(mktemp -d)
export DISPLAY=${SESSION_DISPLAY:-:94} LANG=${SESSION_LANG:-en_US.UTF-8} FYNE_THEME=${SESSION_THEME:-light} XDG_CONFIG_HOME=$work/config
case $FYNE_THEME in light) chosen=0F5E8C ;; *) chosen=6FC0EA ;; esac # the colour of what is chosen
Xvfb "$DISPLAY" -screen 0 1366x768x24 >/dev/null 2>&1 &
server=$!
program=
trap 'kill -9 $program 2>/dev/null; kill $server 2>/dev/null; rm -rf "$work"' EXIT
sleep 1
openbox >/dev/null 2>&1 &

spindlestick=${SESSION_PROGRAM:-$work/spindlestick}
[ -x "$spindlestick" ] || (cd "$top" && go build -tags migrated_fynedo -o "$spindlestick" ./cmd/spindlestick)
mkdir -p "$work/bench" "$XDG_CONFIG_HOME/fyne/org.spindlestick.bench"
cp "$top/assets/demo/demo.jpg" "$work/bench/spindle.jpg"
# The folder last used, so that the dialogs begin there; millimetres.
printf '{"folder":"%s","unit":"mm"}' "$work/bench" >"$XDG_CONFIG_HOME/fyne/org.spindlestick.bench/preferences.json"

n=0
shot() { # the screen, with what was done
	n=$((n + 1))
	sleep 0.8
	import -window root "$out/$(printf %02d $n).png"
	echo "$(printf %02d $n)  $1"
}
fail() {
	echo "FAILED: $1" >&2
	import -window root "$out/failed.png"
	exit 1
}
window() { xdotool search --onlyvisible --name Spindlestick 2>/dev/null | tail -1; }
start() { # the program, its window at a known place
	"$spindlestick" "$@" >"$work/log" 2>&1 &
	program=$!
	for _ in $(seq 200); do [ -n "$(window)" ] && break; sleep 0.1; done
	sleep 2
	xdotool windowsize "$(window)" 1360 738 windowmove "$(window)" 0 0
	sleep 1.5
}
until_step() { # until the line under step $1 is the chosen one's
	for _ in $(seq 300); do
		import -window root -crop "1x1+$((120 + 226 * ($1 - 1)))+64" -depth 8 txt:- | grep -q "$chosen" && return
		sleep 0.3
	done
	fail "step $1 did not come up"
}
until_file() {
	for _ in $(seq 200); do [ -s "$1" ] && return; sleep 0.1; done
	fail "$1 was not written"
}
click() { xdotool mousemove "$1" "$2"; sleep 0.3; xdotool click 1; sleep 0.6; }
key() { for k in "$@"; do xdotool key "$k"; sleep 0.5; done; }
# The elements that the session works on: the one before the last, whose end is moved, and the longest.
last='e[-2]'
longest="max(e, key=lambda q: q['x1'] - q['x0'])"
element() { # what stands under $3 in element $2 of a job file
	unzip -p "$1" pattern.json | python3 -c "import json,sys; e = json.load(sys.stdin)['elements']; print(($2)['$3'])"
}
kept() { # what stands under $2 in element $1 in the work that is kept aside, once the hand has rested
	sleep 4
	element "$(ls "$XDG_CONFIG_HOME"/spindlestick/unsaved/*.turning | head -1)" "$1" "$2"
}
holds() { # whether a comparison of numbers holds
	python3 -c "import sys; sys.exit(not ($1))" || fail "$2: $1"
}

start
shot "an empty bench, and how to take a photograph"
key ctrl+o
shot "the dialog for photographs"
click 385 175 # the only photograph in the folder
click 1225 664 # Open
shot "the photograph is being read"
until_step 4
shot "traced: photograph, profile and stick on one axis"

key alt+2
shot "the scale: boards, rule, sizes, and how the piece lay"
click 952 299 # the boards at the height of the axis
click 1088 "${TRACE_Y:-545}" # Trace again
sleep 1
until_step 4
shot "traced again with the boards raised"

before=$(kept "$last" x1)
line=$(python3 -c "print(round(35 + 745 * 394.5 / 421))") # about where the last taper ends on the screen
xdotool mousemove "$line" 640; sleep 0.5
xdotool mousedown 1
for i in $(seq 30); do xdotool mousemove $((line - i)) 640; sleep 0.012; done
sleep 1
shot "a station under the hand, with loupe and number"
xdotool mouseup 1
shot "the station moved: one step to undo"
moved=$(kept "$last" x1)
holds "$moved < $before - 5" "the station did not move"
click 430 372
shot "the long swell is selected"
click 936 142
shot "the shapes to choose from"
click 965 212 # cylinder
shot "the swell became a cylinder"
[ "$(kept "$longest" kind)" = cylinder ] || fail "the shape did not change"
key ctrl+z ctrl+z
shot "undone twice: shape and station as they were"
[ "$(kept "$longest" kind)" = swell ] || fail "the shape was not undone"
holds "$(kept "$last" x1) == $before" "the station was not undone"
key ctrl+y
shot "redone: the station moved again"
holds "$(kept "$last" x1) == $moved" "the station was not redone"

key alt+5
click 1140 "${SIZES_Y:-244}"
shot "workshop sizes to choose from"
for _ in $(seq "${SIZES_DOWN:-3}"); do key Down; done
key Return
shot "rounded to 1/32 in, every change listed"
key ctrl+p
click 1088 "${WRITE_Y:-485}" # Write the sheets
shot "where the sheets go"
key Return
until_file "$work/bench/spindle.pdf"
head -c 5 "$work/bench/spindle.pdf" | grep -q '%PDF-' || fail "no PDF was written"
shot "the sheets are written"

key ctrl+s
shot "where the job goes"
key Return
until_file "$work/bench/spindle.turning"
shot "saved: the title carries no mark"
unzip -p "$work/bench/spindle.turning" job.json | grep -q "1/32in" || fail "the workshop sizes were not saved"
saved=$(element "$work/bench/spindle.turning" "$longest" x0)
[ "$(element "$work/bench/spindle.turning" "$longest" kind)" = swell ] || fail "the undone shape was saved"

key alt+4
click 430 372
key shift+Right shift+Right
shot "in the middle of an edit: its near station is 2 mm on"
sleep 4 # the work is kept aside two seconds after the hand rests
kill -9 $program
wait $program 2>/dev/null || true
shot "the program was killed"
start
shot "started again: the work is offered"
key Return
until_step 4
shot "taken up again, with the edit"
key ctrl+s
sleep 1
xdotool key ctrl+a; xdotool type --delay 40 "$work/bench/recovered.turning"
key Return
until_file "$work/bench/recovered.turning"
shot "the recovered work is saved"
holds "abs($(element "$work/bench/recovered.turning" "$longest" x0) - $saved - 2) < 1e-6" "the edit before the kill is not in the recovered work"
echo "all as it should be"
