#!/bin/sh
# Draws the pictures of ui/README.md anew, from the real program:  sh ui/screens/make.sh
# It needs a graphics driver, but no screen and no graphics card (Debian package libgl1-mesa-dri).
set -eu
cd "$(dirname -- "$0")/../.."
EGL_PLATFORM=surfaceless
export EGL_PLATFORM
program=$(mktemp -d)/airpath
go build -o "$program" ./cmd/airpath
draw() {
	name=$1
	shift
	"$program" screenshot -o "ui/screens/$name.png" "$@"
}
draw trace --suspect 1 --curves
draw trace-dark --suspect 1 --curves --dark --size 1920x1080
draw test --show test:build-up-85-100
draw part --show part:rear_relay
draw why --show why:compressor
draw outcomes --show outcomes --suspect 1
draw tests --show tests --dark
draw doubt --show doubt --suspect 2
draw path --show path
draw repair --show repair --suspect 1
draw paper --show paper
draw settings --show settings
draw strong --suspect 1 --look high-contrast-dark --text 1.3
draw small --size 420x760 --suspect 1
draw largest tractor_trailer --size 1920x1080
draw flow --area flow --moment "knob=1,5,pedal=0.6,0.4,play"
draw drill --area drill
rm -r "$(dirname -- "$program")"
