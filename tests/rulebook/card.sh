#!/bin/sh
# The forms of a card against their standards and each other (tests/card/forms.py). Needs python3 with icalendar and jsonschema
# (python3-icalendar and python3-jsonschema, `make deps`); without them it fails.
set -u
program=${TIECOAT:-build/tiecoat}
python=
for candidate in python3 /usr/bin/python3; do
	"$candidate" -c 'import icalendar, jsonschema; jsonschema.Draft202012Validator' 2>/dev/null && { python=$candidate; break; }
done
[ -n "$python" ] || { echo 'no python3 with icalendar and jsonschema (4.0 or later): make deps'; exit 1; }
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE
"$python" tests/card/forms.py "$program"
