#!/bin/sh
# Cards and their index as pages: well-formed, asking for nothing from elsewhere, without script; every id there once, and every
# reference to one answered; texts of a hostile recipe inert; cautions and errors told.
set -u
program=${TIECOAT:-build/tiecoat}
bad=0
pages=0
made=$(mktemp -d) || exit 1
trap 'rm -rf "$made"' EXIT
command -v xmllint >/dev/null 2>&1 || { echo 'no xmllint: see make deps'; exit 1; }

complain() {
	echo "$1: $2"
	bad=1
}

# What no page may have. Attributes are looked for in tags alone: text has its < as &lt;.
inert() { # FILE
	xmllint --noout "$1" 2>"$made/errors" || complain "$1" "$(head -3 "$made/errors")"
	tr '\n' ' ' <"$1" | grep -o '<[^>]*>' >"$made/tags"
	found=$(grep -iE '^<(script|iframe|img|object|embed|link|base|form|input|foreignobject|use|image|animate|set)[ />]' "$made/tags" | head -3)
	[ -n "$found" ] && complain "$1" "has $found"
	found=$(grep -iE '[ "'"'"'](on[a-z]+|src|srcset|style|action|xlink:href)=' "$made/tags" | head -3)
	[ -n "$found" ] && complain "$1" "has $found"
	found=$(grep -oE ' href="[^"]*"' "$made/tags" | grep -vE '^ href="(#[a-z0-9-]+|[A-Za-z0-9._~/%-]+)"$' | head -3)
	[ -n "$found" ] && complain "$1" "refers to $found"
	sed -n '/<style>/,/<\/style>/p' "$1" | grep -nE '@import|url\([^#]|expression|https?:' && complain "$1" 'style fetches something'
	grep -qF "content=\"default-src 'none'; style-src 'unsafe-inline'\"" "$made/tags" || complain "$1" 'has no policy'
	grep -qiE '<html lang="en"' "$made/tags" || complain "$1" 'has no language'
}

linked() { # FILE: with $made/tags of it
	grep -oE ' id="[^"]*"' "$made/tags" | sed 's/ id="//; s/"//' | sort >"$made/ids"
	found=$(uniq -d "$made/ids")
	[ -n "$found" ] && complain "$1" "ids twice: $found"
	{ grep -oE ' href="#[^"]*"' "$made/tags" | sed 's/ href="#//; s/"//'
		grep -oE ' aria-labelledby="[^"]*"' "$made/tags" | sed 's/ aria-labelledby="//; s/"//' | tr ' ' '\n'
		grep -oE 'url\(#[^)]*\)' "$1" | sed 's/url(#//; s/)//'; } | sort -u >"$made/referred"
	found=$(comm -13 "$made/ids" "$made/referred")
	[ -n "$found" ] && complain "$1" "refers to what is not there: $found"
	[ -s "$made/referred" ] || complain "$1" 'refers to nothing: is it a card?'
}

check_page() { # FILE
	pages=$((pages + 1))
	inert "$1"
	linked "$1"
}

for recipe in examples/*.yaml tests/golden/card/*.yaml; do
	page=$made/$(echo "$recipe" | tr '/' '-').html
	"$program" card --format=html "$recipe" >"$page" 2>"$made/said"
	[ $? -lt 2 ] || complain "$recipe" "$(cat "$made/said")"
	check_page "$page"
done
"$program" card --format=html --output="$made/faults/" examples/faults >"$made/said" 2>&1
[ $? -lt 2 ] || complain examples/faults "$(cat "$made/said")"
for page in "$made"/faults/[!i]*.html; do
	check_page "$page"
done

# A title that would end its element, labels that would be markup: there as text, and no tag of theirs.
hostile=$made/tests-golden-card-hostile.yaml.html
grep -q '&lt;script&gt;alert(1)&lt;/script&gt;' "$hostile" || complain "$hostile" 'does not show the title as it is'
grep -q '&lt;img src=x onerror=alert(1)&gt;' "$hostile" || complain "$hostile" 'does not show the step as it is'

# Characters that turn the direction of text come out visible.
printf 'recipe: "up \\u202Edown\\u2066 \\u061C"\non: polystyrene\nstack: [{do: "a\\u200Fb \\u2069", takes: 1 min}]\n' >"$made/turned.yaml"
"$program" card --format=html "$made/turned.yaml" >"$made/turned.html"
check_page "$made/turned.html"
python3 - "$made/turned.html" <<'END' || bad=1
import re, sys
found = re.findall('[\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]', open(sys.argv[1], encoding='utf-8').read())
if found:
    print('turned.html has direction characters:', [hex(ord(c)) for c in found])
sys.exit(bool(found))
END
grep -q '&lt;U+202E&gt;' "$made/turned.html" || complain turned 'does not show them'

# What is wrong is told in words, barred with hatching and on every sheet; no page says that anything is safe.
faulty=$made/examples-ferry-wet-lacquer.yaml.html
for word in '<strong>Do not begin</strong>' 'class="hatch"' '<body class="card stop">' '@page stop' 'id="finding-1"'; do
	grep -qF "$word" "$faulty" || complain "$faulty" "lacks $word"
done
conflict=$made/tests-golden-card-conflict.yaml.html
for word in '<strong>No timetable</strong>' 'class="hatch"' 'id="conflict"' 'conflict.yaml:'; do
	grep -qF "$word" "$conflict" || complain "$conflict" "lacks $word"
done
for page in "$made"/*.html; do
	sed 's/Nothing here says that a material or a plan is safe\.//' "$page" | grep -nwi 'safe' | grep -vi 'before anything\|must\|never' | head -2 | grep . && complain "$page" 'says that something is safe'
done

# Every caution that the check of the recipe knows stands on its card whole.
"$program" check examples/pilot-cutter.yaml --format=json >"$made/check.json"
python3 - "$made/check.json" "$made/examples-pilot-cutter.yaml.html" <<'END' || bad=1
import html, json, re, sys
report = json.load(open(sys.argv[1], encoding='utf-8'))
page = html.unescape(re.sub(r'<[^>]*>', '', open(sys.argv[2], encoding='utf-8').read())).replace('\u00a0', ' ')
found = set()
def walk(node):
    if isinstance(node, dict):
        if 'cautions' in node and isinstance(node['cautions'], list):
            found.update(c['text'] for c in node['cautions'])
        for value in node.values():
            walk(value)
    elif isinstance(node, list):
        for value in node:
            walk(value)
walk(report)
missing = [text for text in found if text not in page]
for text in missing:
    print('a caution is not there whole:', text)
print(len(found), 'cautions looked for')
sys.exit(bool(missing) or len(found) < 10)
END

# The index of a folder, and its links.
mkdir "$made/recipes" && cp examples/ferry.yaml examples/ferry-wet-lacquer.yaml "$made/recipes/"
printf 'recipe: "<b>unread</b>"\nstack: 3\n' >"$made/recipes/unread.yaml"
"$program" card --format=html --output="$made/cards/" "$made/recipes" >/dev/null 2>&1
inert "$made/cards/index.html"
pages=$((pages + 1))
for link in $(grep -oE '<a href="[^"#]*"' "$made/cards/index.html" | sed 's/<a href="//; s/"//'); do
	[ -f "$made/cards/$link" ] || complain index "links to $link, which is not there"
done
grep -q 'ferry-wet-lacquer' "$made/cards/index.html" || complain index 'lacks a recipe'
echo "summary: $pages pages"
exit $bad
