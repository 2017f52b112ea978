#!/bin/sh
# `tiecoat bite` against tests/golden/bite/pairs.txt; then its forms: exit status, keys of the JSON, the SVG, messages.
set -u
tiecoat=${TIECOAT:-build/tiecoat}
here=tests/golden/bite
LC_ALL=C.UTF-8
export LC_ALL
passed=0
failed=0
known=0
out=$(mktemp -d) || exit 2
trap 'rm -rf "$out"' EXIT

trim() {
	echo "$1" | sed 's/^ *//; s/ *$//'
}

fail() {
	echo "$*"
	failed=$((failed + 1))
}

fits() { # VERDICT WANTED: one of those parted by ` / `
	echo "$2" | sed 's@ */ *@\n@g' | grep -qxF "$1"
}

ask() { # LINE
	mark=
	line=$1
	case $line in "~"*) mark=yes line=$(trim "${line#\~}") ;; esac
	solid=$(trim "$(echo "$line" | cut -d'|' -f1)")
	liquid=$(trim "$(echo "$line" | cut -d'|' -f2)")
	options=$(trim "$(echo "$line" | cut -d'|' -f3)")
	wanted=$(trim "$(echo "$line" | cut -d'|' -f4)")
	# shellcheck disable=SC2086
	"$tiecoat" bite "$solid" "$liquid" $options --format=json >"$out/json" 2>"$out/err"
	status=$?
	got=$(sed -n 's/^ "verdict": "\(.*\)",$/\1/p' "$out/json")
	[ -n "$got" ] || { fail "$solid, $liquid: $(head -n 1 "$out/err")"; return; }
	case $got in
	"no attack expected") [ $status = 0 ] || fail "$solid, $liquid: exit status $status with '$got'" ;;
	*) [ $status = 1 ] || fail "$solid, $liquid: exit status $status with '$got'" ;;
	esac
	if fits "$got" "$wanted"; then
		[ -z "$mark" ] || { fail "$solid, $liquid: '$got' agrees now: take the ~ out"; return; }
		passed=$((passed + 1))
	elif [ -n "$mark" ]; then
		known=$((known + 1))
	else
		fail "$solid, $liquid${options:+ $options}: '$got', but '$wanted' by $(trim "$(echo "$line" | cut -d'|' -f5)")"
	fi
}

while IFS= read -r line; do
	case $line in "" | "#"*) continue ;; esac
	ask "$line"
done <"$here/pairs.txt"

# --- the JSON: the keys that are promised, each once at the top -----------------------------------------------------------
"$tiecoat" bite polystyrene acrylic-lacquer --pass=light --coats=2 --format=json >"$out/json"
sed -n 's/^ "\([a-z_]*\)":.*/\1/p' "$out/json" >"$out/keys"
diff -u "$here/keys.txt" "$out/keys" || fail "the keys of the JSON differ from $here/keys.txt"
for key in $(cat "$here/keys.txt"); do
	grep -qF "\`$key\`" docs/json.md || fail "docs/json.md does not say what \`$key\` is"
done
if command -v python3 >/dev/null; then
	python3 -c 'import json, sys; d = json.load(sys.stdin); assert d["attack_time_s"] > 0 and d["red"] < 1' <"$out/json" ||
		fail "the JSON cannot be read, or says that a lacquer does not bite polystyrene"
fi

# --- the chart ------------------------------------------------------------------------------------------------------------
chart() { # NAME ARGUMENT…
	name=$1
	shift
	"$tiecoat" bite --format=svg "$@" >"$out/$name.svg"
	if command -v xmllint >/dev/null; then
		xmllint --noout "$out/$name.svg" || fail "$name: the chart is not well-formed"
	fi
	for part in 'role="img"' '<title id=' '<desc id=' '</svg>'; do
		grep -qF "$part" "$out/$name.svg" || fail "$name: the chart has no $part"
	done
	grep -qi '<script\|href=\|url(http' "$out/$name.svg" && fail "$name: the chart reaches out of itself"
	passed=$((passed + 1))
}
chart curve abs alcohol-acrylic --pass=wet --coats=3 --flash='5 min'
chart flat polystyrene acetone
chart metal brass acetone
chart unknown thermoplastic acetone
cat >"$out/shelf.yaml" <<'SHELF'
shelf:
  "<b>&\"gloss\"": {family: acrylic-lacquer, solvents: {n-butyl-acetate: 100 %}}
SHELF
chart label polystyrene '<b>&"gloss"' --shelf="$out/shelf.yaml"
"$tiecoat" bite abs acetone --svg="$out/beside.svg" >/dev/null
"$tiecoat" bite abs acetone --format=svg | cmp - "$out/beside.svg" || fail "--svg and --format=svg differ"

# --- shelves: a file of labels, a recipe's own, a recipe that names a file ------------------------------------------------
cat >"$out/recipe.yaml" <<'RECIPE'
recipe: Pilot cutter
shelf:
  lamp black:
    family: acrylic-lacquer
    solvents: {ethanol: 100 %}
parts: {hull: {substrate: polystyrene}}
stack: [{coat: lamp black, pass: light}]
RECIPE
printf 'recipe: Ferry\nshelf: recipe-shelf.yaml\nparts: {hull: {substrate: polystyrene}}\nstack: [{wait: 1 h}]\n' >"$out/named.yaml"
printf 'lamp black: {family: acrylic-lacquer, solvents: {ethanol: 100 %%}}\n' >"$out/recipe-shelf.yaml"
for shelf in recipe named recipe-shelf; do
	"$tiecoat" bite polystyrene 'lamp black' --pass=light --shelf="$out/$shelf.yaml" >"$out/text" 2>&1 &&
		grep -q '^lamp black on polystyrene: no attack expected$' "$out/text" || fail "$shelf.yaml: $(head -n 1 "$out/text")"
done

# --- what is wrong: one message each, and exit status 2 ------------------------------------------------------------------
wrong() { # TEXT ARGUMENT…
	text=$1
	shift
	"$tiecoat" bite "$@" >"$out/text" 2>"$out/err"
	status=$?
	if [ $status != 2 ] || [ -s "$out/text" ] || ! grep -qF -- "$text" "$out/err" || [ "$(wc -l <"$out/err")" != 1 ]; then
		fail "bite $*: exit status $status: $(cat "$out/err")"
	else
		passed=$((passed + 1))
	fi
}
wrong '`bite` needs a solid and a liquid' polystyrene
wrong '`bite` needs a solid and a liquid' polystyrene acetone toluene
wrong 'SOLID: no `polystyren` in the library; `polystyrene` is near' polystyren acetone
wrong 'LIQUID: `lacquer:x` is no part of a blend' polystyrene lacquer:x
wrong 'LIQUID: no `toluen` in the library; `toluene` is near' polystyrene toluen:50,acetone:50
wrong '--pass: ' polystyrene acrylic-lacquer --pass=heavy
wrong '--pass: `pass` means nothing with `wipe`' polystyrene acetone --pass=light
wrong '--coats: ' polystyrene acrylic-lacquer --coats=0
wrong '--flash: ' polystyrene acrylic-lacquer --coats=2 --flash=5
wrong '--thin: ' polystyrene acrylic-lacquer --thin=lacquer-thinner
wrong '--thin: ' polystyrene acrylic-lacquer --thin='brass 1:1'
wrong '--wet-film: ' polystyrene acrylic-lacquer --wet-film=30
wrong '--wet-film: ' polystyrene acetone --wet-film='3 min'
wrong '--temperature: ' polystyrene acetone --temperature=21
wrong '--humidity: ' polystyrene acetone --humidity='150 %'
wrong '--air-speed: ' polystyrene acetone --air-speed='-1 m/s'
wrong '--time: ' polystyrene acrylic-lacquer --time='30 s'
wrong '--shelf: ' polystyrene acetone --shelf="$out/none.yaml"
wrong '--format is text, json or svg' polystyrene acetone --format=line

# --- nothing is ever called safe; the caution always stands there ---------------------------------------------------------
for pair in 'glass water' 'polystyrene acetone' 'thermoplastic acetone'; do
	# shellcheck disable=SC2086
	"$tiecoat" bite $pair >"$out/text"
	grep -q '^! Try it on a hidden spot' "$out/text" || fail "$pair: no word on trying it first"
	sed '/Nothing here says that a material or a plan is safe/d' "$out/text" | grep -qiw 'safe' && fail "$pair: says safe"
done

echo "summary: $passed agree, $known known disagreements, $failed fail"
[ $failed = 0 ]
