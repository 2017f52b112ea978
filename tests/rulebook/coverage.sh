#!/bin/sh
# What is known of which pair: the text and the page agree, the table is whole, and what a kind narrows is what it says.
set -u
tiecoat=${TIECOAT:-build/tiecoat}
LC_ALL=C.UTF-8
export LC_ALL
text=$(mktemp)
page=$(mktemp)
trap 'rm -f "$text" "$page"' EXIT
failed=0

wrong() {
	echo "$*"
	failed=$((failed + 1))
}

look_at() { # ARGUMENT…: both forms of one coverage
	"$tiecoat" rules --coverage "$@" >"$text" || wrong "$*: exit status $?"
	"$tiecoat" rules --coverage --format=html "$@" >"$page" || wrong "$*: exit status $? of the page"
	columns=$(grep -o '<th scope="col"><span' "$page" | wc -l)
	rows=$(grep -c '<tr><th scope="row">[^<]*</th><td class="w' "$page")
	cells=$(grep -o '<td class="w[0-5]" title' "$page" | wc -l)
	[ "$columns" -gt 0 ] && [ "$rows" -gt 0 ] || wrong "$*: $rows rows, $columns columns"
	[ "$cells" -eq $((rows * columns)) ] || wrong "$*: $cells cells in $rows rows and $columns columns"
	for mark in R r m g '?' -; do
		in_text=$(grep -E '^  [^ ].*( {2}[Rrmg?-])+$' "$text" | tr -s ' ' '\n' | grep -cxF -- "$mark")
		in_page=$(grep -oF -- "\">$mark</td>" "$page" | wc -l)
		[ "$in_text" -eq "$in_page" ] || wrong "$*: \`$mark\` stands $in_text times in the text, $in_page times on the page"
	done
	# the sums are those of the cells
	for by in 'by a rule' 'by the model alone' 'by general rules alone' 'by nothing'; do
		sum=$(sed -n "s/^  $by  *\([0-9]*\) (.*/\1/p" "$text")
		of_cells=$(grep -o "; [0-9]* $by[;\"]" "$page" | awk '{n += $2} END {print n + 0}')
		[ "$sum" = "$of_cells" ] || wrong "$*: $sum pairs $by, but $of_cells in the cells"
		grep -qF "<th scope=\"row\">$by</th><td class=\"share\">$sum (" "$page" || wrong "$*: the page's sum $by is another"
	done
	grep -q '<caption>' "$page" && grep -q '<html lang="en">' "$page" && grep -q 'scope="rowgroup"' "$page" ||
		wrong "$*: the page lacks its language, a caption or headers"
	grep -qE '<script|https?:|@import|url\(' "$page" && wrong "$*: the page wants a script or something from elsewhere"
	xmllint --html --noout "$page" 2>"$text" || wrong "$*: the page is no HTML: $(head -n 3 "$text")"
}

look_at
look_at lacquer
look_at thermoset
look_at polystyrene alkyd-enamel
[ "$columns" = 1 ] && [ "$rows" = 1 ] || wrong "two materials make $rows rows and $columns columns"

# what the rule of unknown pairs says in a plan is what stands here
"$tiecoat" rules --coverage phenolic acrylic-lacquer | grep -q '^  by nothing *1 ' || wrong "phenolic below acrylic lacquer is known"
"$tiecoat" rules --coverage steel acrylic-lacquer | grep -q '^  by a rule *1 ' || wrong "no rule speaks of lacquer on steel"

"$tiecoat" rules --coverage no-such-kind >/dev/null 2>"$text" && wrong "a kind that is not there passes"
grep -q 'no kind or material' "$text" || wrong "a kind that is not there is not complained of"
"$tiecoat" rules --format=html >/dev/null 2>&1 && wrong "--format=html passes without --coverage"
"$tiecoat" rules --coverage detergent >/dev/null 2>&1 && wrong "what is no coat and no ground passes"
echo "summary: coverage as text and as a page"
[ $failed = 0 ]
