#!/bin/sh
# Recipes with the verdict that a published source or common practice gives them: tests/reference/*/…yaml. The first line
# says what is expected: `# expect: error|no-error|warning|no-warning|note|none [rule]`. A named rule must be among the
# findings. A disagreement that is known and explained stands on a line `# disagrees: why`; it is counted, and the run
# complains when it heals.
set -u
tiecoat=${TIECOAT:-build/tiecoat}
passed=0
failed=0
known=0
for f in tests/reference/recipes/*.yaml tests/reference/practice/*.yaml; do
	[ -f "$f" ] || continue
	set -- $(sed -n '1s/^# expect: *//p' "$f")
	want=${1:-}
	rule=${2:-}
	out=$("$tiecoat" check --format=line "$f" 2>&1)
	status=$?
	why=
	[ $status -le 1 ] || why="exit status $status: $(echo "$out" | head -n 3)"
	errors=$(echo "$out" | grep -c ': error: ')
	warnings=$(echo "$out" | grep ': warning: ' | grep -vc ': undecided: ')
	notes=$(echo "$out" | grep -c ': note: ')
	case $want in
	error) [ "$errors" -gt 0 ] || why="no error" ;;
	no-error) [ "$errors" -eq 0 ] || why="an error" ;;
	warning) [ "$errors" -eq 0 ] && [ "$warnings" -gt 0 ] || why="$errors errors, $warnings warnings" ;;
	no-warning | none) [ "$errors" -eq 0 ] && [ "$warnings" -eq 0 ] || why="$errors errors, $warnings warnings" ;;
	note) [ "$errors" -eq 0 ] && [ "$warnings" -eq 0 ] && [ "$notes" -gt 0 ] || why="$errors errors, $warnings warnings, $notes notes" ;;
	*) why="the first line must say what is expected" ;;
	esac
	[ -z "$rule" ] || echo "$out" | grep -qF "[$rule]" || why="$why; rule $rule did not fire"
	if grep -q '^# disagrees: ' "$f"; then
		known=$((known + 1))
		[ -n "$why" ] || { echo "$f: agrees now: take the line 'disagrees' out"; failed=$((failed + 1)); }
	elif [ -n "$why" ]; then
		echo "$f: expected $want${rule:+ $rule}, but: $why"
		echo "$out" | sed 's/^/    /' | head -n 12
		failed=$((failed + 1))
	else
		passed=$((passed + 1))
	fi
done
echo "summary: $passed agree, $known known disagreements, $failed fail"
[ $failed = 0 ]
