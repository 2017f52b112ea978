#!/bin/sh
# Ordinary sound plans, as a workshop does them every week: tests/reference/sound/. None may draw an error, and each at most
# one warning (an undecided question counts as one); a rule that cries wolf is not read.
set -u
tiecoat=${TIECOAT:-build/tiecoat}
least=30
plans=0
quiet=0
failed=0
for f in tests/reference/sound/*.yaml; do
	plans=$((plans + 1))
	out=$("$tiecoat" check --format=line --no-settings "$f" 2>&1)
	status=$?
	found=$(echo "$out" | grep -E ': (error|warning): ')
	errors=$(echo "$found" | grep -c ': error: ')
	warnings=$(echo "$found" | grep -c ': warning: ')
	[ "$errors$warnings" = 00 ] && quiet=$((quiet + 1))
	if [ $status -gt 1 ] || [ "$errors" -gt 0 ] || [ "$warnings" -gt 1 ]; then
		echo "$f: exit status $status, $errors errors, $warnings warnings"
		echo "$found" | sed 's/^/    /'
		failed=$((failed + 1))
	fi
done
[ $plans -ge $least ] || { echo "only $plans plans; $least are wanted"; failed=$((failed + 1)); }
echo "summary: $plans sound plans, $quiet without a warning"
[ $failed = 0 ]
