#!/bin/sh
# Calendars read by ical.js. Needs node and npm, which fetches ical.js into the build folder at the first time.
set -u
program=${TIECOAT:-build/tiecoat}
modules=${BUILD:-build}/card-node
command -v node >/dev/null && command -v npm >/dev/null || { echo 'no node or no npm: calendars are not read by ical.js'; exit 1; }
mkdir -p "$modules" && cp tests/card/node/package.json "$modules/" || exit 1
[ -d "$modules/node_modules/ical.js" ] || npm install --prefix "$modules" --no-audit --no-fund --silent || exit 1
made=$(mktemp -d) || exit 1
trap 'rm -rf "$made"' EXIT
# the night on which clocks go back, and that on which they go forward
for night in 2031-10-25 2031-03-29; do
	sed "s/^start: .*/start: $night 22:30/; s/^zone: .*/zone: Europe\/Berlin/; /^sessions:/,/^  - sat/d" \
		examples/lifeboat-evenings.yaml >"$made/$night.yaml"
done
CARD_MODULES=$modules node tests/card/node/calendar.js "$program" examples/*.yaml tests/golden/card/*.yaml "$made"/*.yaml
