#!/bin/sh
# SARIF, JUnit XML and JSON lines against their schemas and each other; the schemas of recipes, shelves and rulebooks against the
# program. Needs python3 with jsonschema and yaml (python3-jsonschema and python3-yaml, `make deps`); without them it fails.
set -u
program=${TIECOAT:-build/tiecoat}
python=
for candidate in python3 /usr/bin/python3; do
	"$candidate" -c 'import jsonschema, yaml; jsonschema.Draft202012Validator' 2>/dev/null && { python=$candidate; break; }
done
[ -n "$python" ] || { echo 'no python3 with jsonschema (4.0 or later) and yaml: make deps'; exit 1; }
command -v xmllint >/dev/null || { echo 'no xmllint: make deps'; exit 1; }
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE
bad=0
for test in tests/schema/*.py; do
	"$python" "$test" "$program" || bad=1
done
exit $bad
