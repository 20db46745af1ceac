#!/bin/sh
# Draws the pictures of ui/README.md anew, from the real program:  sh ui/screens/make.sh
# It needs a graphics driver, but no screen and no graphics card (Debian package libgl1-mesa-dri).
set -eu
cd "$(dirname -- "$0")/../.."
EGL_PLATFORM=surfaceless
XDG_CACHE_HOME=${XDG_CACHE_HOME:-$HOME/.cache}
export EGL_PLATFORM XDG_CACHE_HOME
program=$(mktemp -d)/airpath
go build -o "$program" ./cmd/airpath
draw() {
	name=$1
	shift
	# the folder that is looked through in the pictures is nobody's
	HOME=/home/depot "$program" screenshot -o "ui/screens/$name.png" "$@"
}
draw trace --suspect 1 --curves
draw trace-dark --suspect 1 --curves --dark --size 1920x1080
draw test --show test:build-up-85-100
draw part --show part:rear_relay
draw why --show why:compressor
draw outcomes --show outcomes --suspect 1
draw tests --show tests --dark
draw doubt --show doubt --suspect 2
draw two --show verdict --suspect 2 ui/screens/after-the-winter.toml
draw path --show path
draw repair --show repair --suspect 1
draw paper --show paper
draw settings --show settings
draw strong --suspect 1 --look high-contrast-dark --text 1.3
draw small --size 420x760 --suspect 1
draw largest tractor_trailer --size 1920x1080
draw flow --area flow --moment "knob=1,5,pedal=0.6,0.4,play"
draw flow-walk --area flow --moment "walk:3,do,2" --dark
draw flow-fault --area flow --moment "knob=1,fault:rear_relay/stuck shut,5,pedal=0.6,2,look:rear_relay,page:Faults,play"
draw flow-line --area flow --moment "knob=1,5,look:relay_supply,play"
draw flow-combination tractor_trailer --area flow --moment "knob=1,5,pedal=0.6,0.4,play" --size 1920x1080
draw flow-trailer semi_trailer --area flow --moment "gladhand_supply.shut=1,gladhand_supply.shop_air=1,6,play"
draw open --show open
draw drill --area drill
draw drill_work --area drill --dark --moment "begin:06-pulls-right;do:push-rod-stroke;good:rear_relay;doubt:front_left_slack;name:front_left_slack/not adjusting;file:a-prentice.work.json"
draw drill_making --area drill --moment "make;hide:governor/cut-out low;complaint:cuts out too low;work out"
work=$(mktemp -d)/a.work.json
for step in "prepare chock" "do build-up-85-100" "do cab-check" "do governor-cut-out" "clear compressor"; do
	# shellcheck disable=SC2086 # the step is words
	"$program" drill work --exercise 05-early-cut-out --work "$work" --trainee "A. Prentice" $step
done
"$program" drill work --exercise 05-early-cut-out --work "$work" name "governor/cut-out low"
draw drill_marks --area drill --moment "marks:05-early-cut-out;mark:$work;review:A. Prentice"
rm -r "$(dirname -- "$work")"
rm -r "$(dirname -- "$program")"
