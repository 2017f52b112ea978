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
cores=$(nproc)
best scan "$dir/scan" "$dir/list"
best check "$build/tiecoat" check --jobs=1 --format=line "$dir/corpus"
best json "$build/tiecoat" check --jobs=1 --format=json "$dir/corpus"
best text "$build/tiecoat" check --jobs=1 "$dir/corpus"
best all "$build/tiecoat" check --format=line "$dir/corpus"
one=$(head -n 1 "$dir/list")
many() { for _ in $(seq 100); do "$build/tiecoat" check --format=line "$one"; done; true; }
best hundred many
# A tenth of the corpus, for the growth with its size: whole folders of 1000, so it needs 10 000.
tenth=0
if [ "$count" -ge 10000 ]; then
	mkdir "$dir/tenth"
	for f in $(ls "$dir/corpus" | head -n $((count / 10000))); do mv "$dir/corpus/$f" "$dir/tenth/"; done
	tenth=$(find "$dir/tenth" -name '*.yaml' | wc -l)
	best part "$build/tiecoat" check --jobs=1 --format=line "$dir/tenth"
fi
awk -v n="$count" -v s="$scan" -v c="$check" -v j="$json" -v t="$text" -v a="$all" -v h="$hundred" -v cores="$cores" -v m="$tenth" -v p="${part:-0}" 'BEGIN {
  printf "bare scan             %8.1f µs a recipe\n", s / n / 1000;
  printf "check, lines, 1 job   %8.1f µs a recipe   %.2f × the scan   %d recipes a second\n", c / n / 1000, c / s, n * 1e9 / c;
  printf "check, text, 1 job    %8.1f µs a recipe   %.2f × the scan\n", t / n / 1000, t / s;
  printf "check, JSON, 1 job    %8.1f µs a recipe   %.2f × the scan\n", j / n / 1000, j / s;
  printf "check, lines, %d cores %8.1f µs a recipe   %.2f times as fast as 1 job\n", cores, a / n / 1000, c / a;
  if (m > 0)
    printf "growth                %8.1f µs a recipe over %d, %.1f over %d\n", p / m / 1000, m, c / n / 1000, n;
  printf "one recipe            %8.2f ms whole process\n", h / 100 / 1e6 }'
peak() { # kB
	if [ -x /usr/bin/time ]; then
		/usr/bin/time -f '%M' "$@" 2>&1 >/dev/null | tail -n 1
	else
		echo '? (install time)'
	fi
}
[ "$tenth" = 0 ] || echo "peak memory, $cores cores: $(peak "$build/tiecoat" check --format=line "$dir/tenth") kB over $tenth"
[ "$tenth" = 0 ] || mv "$dir/tenth"/* "$dir/corpus/"
echo "peak memory, $cores cores: $(peak "$build/tiecoat" check --format=line "$dir/corpus") kB over $count, text $(peak "$build/tiecoat" check "$dir/corpus") kB, JSON $(peak "$build/tiecoat" check --format=json "$dir/corpus") kB"
echo "peak memory, 1 job:   $(peak "$build/tiecoat" check --jobs=1 --format=line "$dir/corpus") kB over $count, $(peak "$build/tiecoat" check --format=line "$one") kB over one"
# Cards: each is a plan made, judged again at its times, and written; the first hundred recipes, with evenings to fit.
cards=$([ "$count" -lt 100 ] && echo "$count" || echo 100)
mkdir "$dir/evenings"
find "$dir/corpus" -name '*.yaml' | sort | head -n "$cards" | while read -r f; do
	{ cat "$f"; printf "start: 2031-05-14\nsessions: [daily 18:00 to 23:00]\n"; } >"$dir/evenings/${f##*/}"
done

best sheet "$build/tiecoat" card --format=json --output="$dir/sheet.json" "$dir/evenings"
best html "$build/tiecoat" card --format=html --output="$dir/cards" "$dir/evenings"
find "$dir/evenings" -name '*.yaml' | sort >"$dir/list"
best scan "$dir/scan" "$dir/list"
awk -v n="$cards" -v s="$scan" -v j="$sheet" -v h="$html" 'BEGIN {
  printf "card, JSON            %8.2f ms a recipe   %.0f × the scan\n", j / n / 1e6, j / s;
  printf "card, HTML            %8.2f ms a recipe   %.0f × the scan\n", h / n / 1e6, h / s }'
echo "peak memory, cards:   $(peak "$build/tiecoat" card --format=html --output="$dir/cards" "$dir/evenings") kB over $cards"
