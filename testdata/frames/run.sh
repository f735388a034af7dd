#!/bin/bash
# Measures how smoothly photographs of 24 and 48 megapixels move, in the window and as one picture of the toolkit.
# Needs Xvfb, openbox, xdotool and ImageMagick. Prints the program's own lines while the mouse zooms, drags and rests.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
top=$(cd "$here/../.." && pwd)
work=$(mktemp -d)
display=:${1:-93}
Xvfb "$display" -screen 0 1366x768x24 >/dev/null 2>&1 &
server=$!
trap 'kill $server 2>/dev/null; rm -rf "$work"' EXIT
sleep 1
export DISPLAY=$display LANG=en_US.UTF-8 XDG_CONFIG_HOME=$work
openbox >/dev/null 2>&1 &
(cd "$top" && go build -tags migrated_fynedo -o "$work/frames" ./testdata/frames)
convert "$top/assets/demo/demo.jpg" -resize '6000x4000!' "$work/24.jpg"
convert "$top/assets/demo/demo.jpg" -resize '8000x6000!' "$work/48.jpg"
for size in 24 48; do
	for way in "" -bare; do
		echo "== $size megapixels ${way:-window}"
		: >"$work/log"
		"$work/frames" $way "$work/$size.jpg" >>"$work/log" 2>/dev/null &
		program=$!
		settle=$((size / 2 + 6))
		sleep $settle
		echo "-- at rest" >>"$work/log"
		xdotool mousemove 450 250
		sleep 2
		echo "-- zooming" >>"$work/log"
		for i in $(seq 20); do xdotool click 4; sleep 0.06; done
		for i in $(seq 20); do xdotool click 5; sleep 0.06; done
		for i in $(seq 12); do xdotool click 4; sleep 0.06; done
		echo "-- dragging" >>"$work/log"
		xdotool mousedown 2
		for i in $(seq 60); do xdotool mousemove_relative -- $((i % 20 < 10 ? 8 : -8)) 3; sleep 0.02; done
		xdotool mouseup 2
		sleep 1.2
		cat "$work/log"
		kill $program
		wait $program 2>/dev/null || true
	done
done
