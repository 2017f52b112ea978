#!/bin/sh
# Every collected fact (tests/reference/facts.tsv) has its line in docs/knowledge-rules.md, and that line keeps its word: it
# names rules or entries of the library that there are, or says why the fact was left out. A fact of which it says that no
# rule fires, and names none, is held by a recipe; a fact that fails is not covered by silence; recipes and table name each
# other.
set -u
tiecoat=${TIECOAT:-build/tiecoat}
LC_ALL=C.UTF-8
export LC_ALL
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT

"$tiecoat" rules --color=never | sed -n 's/^  \([a-z0-9-]*\)$/rule \1/p' >"$work/names"
[ "$(wc -l <"$work/names")" -gt 100 ] || { echo "the list of rules cannot be read"; exit 1; }
"$tiecoat" rules --fields --color=never | sed -n 's/^  \([a-z][a-z0-9_]*\).*/field \1/p' >>"$work/names"
sed -n 's/^  \([a-z0-9][a-z0-9-]*\):.*/entry \1/p' rules/library/*.yaml rules/cautions/*.yaml >>"$work/names"
sed -n 's/^  \([a-z0-9][a-z0-9-]*\): *{.*/source \1/p' rules/library/sources.yaml >>"$work/names"
echo 'source practice' >>"$work/names"
for f in tests/reference/recipes/*.yaml tests/reference/practice/*.yaml tests/reference/sound/*.yaml; do
	name=$(basename "$f" .yaml)
	echo "recipe $name"
	sed -n 's/^# fact: *//p' "$f" | tr -s ' ,' '\n\n' | sed "s/.*/held & $name/"
done >>"$work/names"

awk -F'\t' '
function wrong(text) { print text; bad++ }
function trim(s) { gsub(/^[ \t]+|[ \t]+$/, "", s); return s }
FILENAME ~ /names$/ { split($0, w, " "); have[w[1], w[2]] = 1; if (w[1] == "held") holds[w[2], w[3]] = 1; next }
FILENAME ~ /tsv$/ && /^#/ { next }
FILENAME ~ /tsv$/ {
	if (NF != 6) wrong($1 ": " NF " columns instead of 6")
	if ($1 in below) wrong($1 " stands twice in the facts")
	below[$1] = $2; above[$1] = $3; verdict[$1] = $5; order[++facts] = $1
	if ($5 !~ /^(ok|ok-if|caution|fails)$/) wrong($1 ": `" $5 "` is no verdict")
	split($6, at, ":")
	if (!(("source", at[1]) in have)) wrong($1 ": no source `" at[1] "` in the library")
	next
}
!/^\| F[0-9]+ \|/ { if (/facts are covered/) claim = $0; next }
{
	n = split($0, c, "|")
	id = trim(c[2]); by = trim(c[5]); held = trim(c[6])
	if (n != 7) { wrong(id ": the line of the table has " n - 2 " columns instead of 5"); next }
	if (!(id in below)) { wrong(id " is in the table and is no fact"); next }
	if (id in seen) wrong(id " stands twice in the table")
	seen[id] = 1
	if (trim(c[3]) != below[id] || trim(c[4]) != above[id]) wrong(id ": the table has another pair than the facts")
	left = by ~ /^left out: /
	if (left) out++
	if (left && length(by) < 25) wrong(id ": left out without a reason")
	names = 0; rules = 0
	for (rest = by; match(rest, /`[^`]+`/); rest = substr(rest, RSTART + RLENGTH)) {
		name = substr(rest, RSTART + 1, RLENGTH - 2)
		names++
		if (("rule", name) in have) rules++
		else if (!(("entry", name) in have) && !(("field", name) in have)) wrong(id ": there is no rule, entry or field `" name "`")
	}
	silent = by ~ /^no rule fires/
	helds = 0
	for (rest = held; match(rest, /`[^`]+`/); rest = substr(rest, RSTART + RLENGTH)) {
		name = substr(rest, RSTART + 1, RLENGTH - 2)
		helds++
		told[id, name] = 1
		if (!(("recipe", name) in have)) wrong(id ": there is no recipe `" name "`")
		else if (!((id, name) in holds)) wrong(id ": the recipe `" name "` does not say `# fact: " id "`")
	}
	if (!left && !silent && !names) wrong(id ": neither a rule nor an entry is named, and it is not left out")
	if (silent && !rules && !helds) wrong(id ": silence that no recipe holds")
	if (silent && verdict[id] == "fails") wrong(id " fails by its source, and no rule fires")
}
END {
	for (i = 1; i <= facts; i++) if (!(order[i] in seen)) wrong(order[i] " (" above[order[i]] " on " below[order[i]] ") is not in the table")
	for (key in holds) { split(key, k, SUBSEP); if (!(key in told)) wrong("the recipe `" k[2] "` holds " k[1] ", and the table does not say so") }
	want = facts - out " of " facts " facts are covered; " out + 0 " were left out with a reason."
	if (claim != want) wrong("the table ends with `" claim "`, and it is: " want)
	print "summary: " facts " facts, " out + 0 " left out with a reason"
	exit bad > 0
}' "$work/names" tests/reference/facts.tsv docs/knowledge-rules.md
