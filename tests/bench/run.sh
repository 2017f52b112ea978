#!/bin/sh
# Speed and memory over a generated corpus, as ratios to a bare libyaml event scan of the same files in the same run.
# COUNT recipes (default 10000), ROUNDS of each, the best one counts. Prints figures; asserts none.
set -eu
build=${BUILD:-build}
count=${COUNT:-10000}
rounds=${ROUNDS:-5}
dir=$(mktemp -d "${TMPDIR:-/tmp}/tiecoat-bench.XXXXXX")
trap 'rm -rf "$dir"' EXIT
${CC:-cc} -O2 -o "$dir/scan" tests/bench/scan.c -lyaml
sh tests/bench/corpus.sh "$count" "$dir/corpus"
find "$dir/corpus" -name '*.yaml' | sort >"$dir/list"
bytes=$(cat $(head -n 1000 "$dir/list") | wc -c)
shown=$([ "$count" -lt 1000 ] && echo "$count" || echo 1000)
echo "corpus: $count recipes, mean $((bytes / shown)) bytes"
# best NAME COMMAND…: the least wall-clock seconds of the rounds, into $NAME
best() {
	name=$1
	shift
	least=
	for _ in $(seq "$rounds"); do
		t0=$(date +%s%N)
		"$@" >/dev/null 2>&1 || [ $? -eq 1 ] || { echo "failed: $*"; exit 1; }
		t1=$(date +%s%N)
		t=$((t1 - t0))
		[ -z "$least" ] || [ "$t" -lt "$least" ] && least=$t
	done
	eval "$name=$least"
}
best scan "$dir/scan" "$dir/list"
best check "$build/tiecoat" check --format=line "$dir/corpus"
best json "$build/tiecoat" check --format=json "$dir/corpus"
one=$(head -n 1 "$dir/list")
many() { for _ in $(seq 100); do "$build/tiecoat" check --format=line "$one"; done; true; }
best hundred many
awk -v n="$count" -v s="$scan" -v c="$check" -v j="$json" -v h="$hundred" 'BEGIN {
  printf "bare scan        %8.1f µs a recipe\n", s / n / 1000;
  printf "check, lines     %8.1f µs a recipe   %.2f × the scan   %d recipes a second\n", c / n / 1000, c / s, n * 1e9 / c;
  printf "check, JSON      %8.1f µs a recipe   %.2f × the scan\n", j / n / 1000, j / s;
  printf "one recipe       %8.2f ms whole process\n", h / 100 / 1e6 }'
peak() { # kB
	if [ -x /usr/bin/time ]; then
		/usr/bin/time -f '%M' "$@" 2>&1 >/dev/null | tail -n 1
	else
		echo '? (install time)'
	fi
}
echo "peak memory      $(peak "$build/tiecoat" check --format=line "$dir/corpus") kB over $count recipes, $(peak "$build/tiecoat" check --format=line "$one") kB over one"
