# Read by cmd/run and cmd/test, not run by itself: which system packages Airpath needs on Debian and its
# relatives, and how the missing ones are installed. The window toolkit is built with cgo against X11, Wayland,
# EGL and Vulkan headers; at run time it needs an OpenGL ES driver, which Mesa supplies also without a GPU.
# shellcheck shell=sh disable=SC2034,SC2154 # the lists are used, and $script and $root are set, by the two that read this

# To build.
build_packages="ca-certificates gcc libc6-dev pkg-config libwayland-dev libx11-dev libx11-xcb-dev libxkbcommon-x11-dev \
libgles-dev libegl-dev libffi-dev libxcursor-dev libxfixes-dev libvulkan-dev"

# To open a window.
window_packages="libegl1 libegl-mesa0 libgles2 libgl1-mesa-dri xkb-data"

# To test the window on a machine without a screen. python3-scipy integrates the exported network
# independently, and poppler-utils reads the PDF files; without them those tests are skipped, in words.
test_packages="xvfb xauth xdotool git python3-scipy poppler-utils"

say() { printf '%s: %s\n' "$script" "$*"; }
fail() {
	printf '%s: %s\n' "$script" "$*" >&2
	exit 1
}

# missing_packages PACKAGE... prints those that are not installed.
missing_packages() {
	for package; do
		status=$(dpkg-query -W -f='${Status}' "$package" 2>/dev/null || true)
		[ "$status" = "install ok installed" ] || printf '%s ' "$package"
	done
}

# need_packages PACKAGE... installs those that are missing, and says so first.
need_packages() {
	if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
		say "this is not a Debian system, so nothing is installed; these packages, by their Debian names, are needed: $*"
		return 0
	fi
	missing=$(missing_packages "$@")
	if [ -z "$missing" ]; then
		return 0
	fi
	as_root=
	if [ "$(id -u)" -ne 0 ]; then
		command -v sudo >/dev/null ||
			fail "these packages are missing, and only root may install them: $missing"
		as_root=sudo
	fi
	say "installing the system packages that are missing: $missing"
	# shellcheck disable=SC2086 # the list and the empty $as_root are meant to split
	$as_root env DEBIAN_FRONTEND=noninteractive apt-get update -q </dev/null ||
		say "the package lists could not be refreshed; going on with those at hand"
	# shellcheck disable=SC2086
	$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $missing </dev/null ||
		fail "apt-get could not install: $missing"
}

# need_go puts Go on the path, or says where to get it.
need_go() {
	if ! command -v go >/dev/null && [ -x /usr/local/go/bin/go ]; then
		PATH=$PATH:/usr/local/go/bin
		export PATH
	fi
	# Where git is missing or does not trust the folder's owner, Go could not stamp the commit and would refuse to build.
	if ! git -C "$root" status >/dev/null 2>&1; then
		GOFLAGS="${GOFLAGS:-} -buildvcs=false"
		export GOFLAGS
	fi
	command -v go >/dev/null ||
		fail "Go is missing: install Go 1.26 or later from https://go.dev/dl/ (Debian's golang-go fetches it by itself if it is 1.21 or later)"
}
