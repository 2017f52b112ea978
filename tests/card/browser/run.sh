#!/bin/sh
# Cards held against the HTML standard, WCAG 2.2 and paper sizes, in Chromium. Needs node, npm and a browser; npm fetches the
# validators into the build folder at the first time. PICTURES=FOLDER keeps what the browser showed and printed.
set -u
program=${TIECOAT:-build/tiecoat}
here=tests/card/browser
modules=${BUILD:-build}/card-browser
command -v node >/dev/null && command -v npm >/dev/null || { echo 'no node or no npm: pages are not looked at in a browser'; exit 1; }
[ -x "${CHROMIUM:-/usr/bin/chromium}" ] || { echo "no ${CHROMIUM:-/usr/bin/chromium}: say CHROMIUM=PROGRAM"; exit 1; }
mkdir -p "$modules" && cp $here/package.json "$modules/" || exit 1
[ -d "$modules/node_modules/puppeteer-core" ] || npm install --prefix "$modules" --no-audit --no-fund --silent || exit 1
made=$(mktemp -d) || exit 1
trap 'rm -rf "$made"' EXIT
bad=0

look() { # SHEETS FOLDER RECIPE…
	sheets=$1
	folder=$made/$2
	shift 2
	"$program" card --format=html --start='2031-05-16 19:00' --output="$folder/" "$@" >/dev/null 2>"$made/said"
	[ $? -lt 2 ] || { cat "$made/said"; bad=1; return; }
	CARD_MODULES=$modules node $here/check.js --pages="$sheets" ${PICTURES:+--pictures="$PICTURES"} $(find "$folder" -name '*.html' | sort) || bad=1
}

# Two sheets for an ordinary recipe; more for many sittings, many layers, or many faults.
look 2 ordinary examples/dredger.yaml examples/ferry.yaml examples/lifeboat.yaml examples/ferry-wet-lacquer.yaml
look 5 long examples/pilot-cutter.yaml examples/steam-pinnace.yaml examples/lifeboat-evenings.yaml
look 9 faults examples/faults tests/golden/card/conflict.yaml tests/golden/card/hostile.yaml tests/card/browser/long-words.yaml
exit $bad
