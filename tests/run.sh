#!/bin/sh
# Runs test programs and scripts one after the other: run.sh LOGS TEST…
# A test passes when it exits 0. Its output goes to LOGS/NAME.log and is shown when it fails.
logs=$1
shift
mkdir -p "$logs"
passed=0
failed=0
for t in "$@"; do
	name=$(echo "$t" | sed 's@^.*tests/@@; s@/@-@g')
	case $t in *.sh) run="sh $t" ;; *) run=$t ;; esac
	if $run >"$logs/$name.log" 2>&1; then
		passed=$((passed + 1))
		printf '  ok    %s%s\n' "$name" "$(sed -n 's/^summary: */  /p' "$logs/$name.log" | tail -1)"
	else
		failed=$((failed + 1))
		printf '  FAIL  %s\n' "$name"
		tail -n 60 "$logs/$name.log" | sed 's/^/        /'
	fi
done
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
