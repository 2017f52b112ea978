#!/bin/sh
# Every rule fires in some recipe that is not its own example: in examples/ and tests/reference/, most of the faults in
# examples/faults/. There a comment `# shows: RULE…` before a document names the rules that it is there for, and they fire in
# that document.
set -u
tiecoat=${TIECOAT:-build/tiecoat}
LC_ALL=C.UTF-8
export LC_ALL
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
failed=0

"$tiecoat" rules --verify examples tests/reference >"$work/proof" 2>&1
missed=$(sed -n '/^Rules that fire in none of the recipes$/,/^$/{/^ /p;}' "$work/proof" | tr -d ',' | tr -s ' ' '\n' | grep .)
grep -q ' recipes, ' "$work/proof" || { echo "the rulebook was not proved: $(head -n 3 "$work/proof")"; failed=1; }
for rule in $missed; do
	echo "$rule fires in none of the recipes"
	failed=$((failed + 1))
done

documents=0
claims=0
for f in examples/faults/*.yaml; do
	"$tiecoat" check --format=line --no-settings "$f" >"$work/lines" 2>&1
	[ $? -le 1 ] || { echo "$f: $(head -n 2 "$work/lines")"; failed=$((failed + 1)); }
	# the first and the last line of each document, and the rules that it shows
	awk '/^---$/ { if (from) print from, NR, rules; from = 0 } /^# shows: / { from = NR; rules = substr($0, 10) }
		END { if (from) print from, NR + 1, rules }' "$f" >"$work/documents"
	while read -r from to rules; do
		documents=$((documents + 1))
		for rule in $rules; do
			claims=$((claims + 1))
			awk -F: -v from="$from" -v to="$to" -v rule="[$rule]" \
				'$2 >= from && $2 < to && index($0, rule) == length($0) - length(rule) + 1 { found = 1 } END { exit !found }' "$work/lines" ||
				{ echo "$f: the document of lines $from to $((to - 1)) does not show $rule"; failed=$((failed + 1)); }
		done
	done <"$work/documents"
done
[ $claims -gt 50 ] || { echo "only $claims rules are said to be shown"; failed=$((failed + 1)); }
echo "summary: every rule fires in a recipe; $claims faults shown in $documents plans"
[ $failed = 0 ]
