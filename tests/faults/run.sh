#!/bin/sh
# Bad input of every kind: each must end within the time limit, with its message, exit 2 and nothing half written.
# run.sh [PROGRAM]; a line a case.
set -u
program=${1:-${TIECOAT:-build/tiecoat}}
case $program in /*) ;; *) program=$PWD/$program ;; esac
LC_ALL=C.UTF-8
export LC_ALL
limit='timeout 20'
root=$(mktemp -d) || exit 2
trap 'chmod -R u+rwx "$root" 2>/dev/null; rm -rf "$root"' EXIT
chmod 755 "$root"
cd "$root" || exit 2
[ -x "$program" ] || { echo "$program is not there"; exit 2; }
passed=0
failed=0
skipped=0

verdict() { # NAME TROUBLE
	if [ -z "$2" ]; then
		passed=$((passed + 1))
		echo "ok    $1"
	else
		failed=$((failed + 1))
		echo "FAIL  $1: $2"
		sed 's/^/      | /' out err 2>/dev/null | head -n 12
	fi
}

# expect NAME STATUS SUBSTRING COMMAND…: its message on standard output or standard error, and a status that a crash or
# the time limit (124) does not give.
expect() {
	name=$1 wanted=$2 text=$3
	shift 3
	$limit "$@" >out 2>err </dev/null
	status=$?
	trouble=
	[ "$status" = "$wanted" ] || trouble="exit $status, not $wanted"
	cat out err | grep -qF -- "$text" || trouble="$trouble; no message with \`$text\`"
	verdict "$name" "${trouble#; }"
}

# A recipe with a stack from standard input.
recipe() {
	printf 'recipe: Ferry, trial piece\nparts:\n  hull: {substrate: polystyrene, area: 40 cm²}\nstack:\n'
	cat
}

good() {
	recipe <<-'EOF'
	  - wash: detergent
	  - coat: waterborne-primer
	    role: primer
	    coats: 2
	    pass: light
	EOF
}

# --- files -------------------------------------------------------------------------------------------------------------
: >empty.yaml
expect 'empty file' 2 'empty.yaml: error: no recipe in this file' "$program" check empty.yaml
head -c 4096 "$program" >binary.yaml
expect 'binary file' 2 'is not UTF-8 here' "$program" check binary.yaml
good | head -c 110 >cut.yaml
printf '  - {wash: deter' >>cut.yaml
expect 'cut short' 2 '[yaml-syntax]' "$program" check cut.yaml
expect 'no such file' 2 'No such file' "$program" check missing.yaml
mkdir barren
echo 'tools: [brush]' >barren/tools.yaml
expect 'folder without a recipe' 2 'barren: error: no recipe in this folder' "$program" check barren
expect 'named file without a recipe' 2 'no recipe in this file' "$program" check barren/tools.yaml
printf '\377\376r\000e\000' >utf16.yaml
expect 'UTF-16' 2 'the file is in UTF-16' "$program" check utf16.yaml
{ printf 'recipe: '; head -c 10000000 /dev/zero | tr '\0' a; echo; } >huge.yaml
expect '10 MB in one text' 2 'at most 8388608 are read' "$program" check huge.yaml
{ printf 'recipe: '; head -c 100000 /dev/zero | tr '\0' a; echo; } >long.yaml
expect '100 kB in one text' 2 'a text of 100000 bytes' "$program" check long.yaml
{ printf 'recipe: '; head -c 10000 /dev/zero | tr '\0' '['; echo; } >deep.yaml
expect '10 000 levels, in flow' 2 'nested more than 64 deep' "$program" check deep.yaml
{ echo 'recipe: deep'; awk 'BEGIN { for (i = 0; i < 10000; i++) { printf "%*sa:\n", i % 400, ""; } }'; } >levels.yaml
expect 'many levels, in block' 2 'nested more than 64 deep' "$program" check levels.yaml
{ echo 'a0: &a0 [x, x, x, x, x, x, x, x, x, x]'
	for i in 1 2 3 4 5 6 7 8 9; do
		p="*a$((i - 1))"
		echo "a$i: &a$i [$p, $p, $p, $p, $p, $p, $p, $p, $p, $p]"
	done
	echo 'recipe: *a9'; } >bomb.yaml
expect 'bomb of aliases' 2 'more than 400000 values' "$program" check bomb.yaml
printf 'recipe: &a [*a]\n' >loop.yaml
expect 'alias to itself' 2 'stands within its own anchor' "$program" check loop.yaml
printf 'recipe: one\nrecipe: two\n' >twice.yaml
expect 'duplicate key' 2 'twice.yaml:2:1: error: the key `recipe` stands here a second time' "$program" check twice.yaml

# --- recipes -----------------------------------------------------------------------------------------------------------
bad() { # NAME SUBSTRING, stack on standard input
	recipe >case.yaml
	expect "$1" 2 "$2" "$program" check case.yaml
}
bad 'unknown verb' 'no key `varnishh` in a step' <<'EOF'
  - varnishh: polystyrene
EOF
bad 'unknown key' '`coats` is near' <<'EOF'
  - {coat: waterborne-primer, caots: 2}
EOF
bad 'unknown material' '`waterborne-primer` is near' <<'EOF'
  - coat: waterborne-prmer
EOF
bad 'missing unit' 'case.yaml:5:11: error: `30` has no unit; write `30 min`' <<'EOF'
  - wait: 30
EOF
bad 'wrong dimension' 'case.yaml:5:11: error: `30 µm` is a length and `wait` takes a time' <<'EOF'
  - wait: 30 µm
EOF
bad 'negative film' 'it must be above zero' <<'EOF'
  - {coat: waterborne-primer, coats: 1, wet_film: -5 µm}
EOF
bad 'wait of 1e30 d' 'longer than the 100 years' <<'EOF'
  - wait: 1e30 d
EOF
bad 'wait of 1e400 d' 'too large a number' <<'EOF'
  - wait: 1e400 d
EOF
bad 'not a number' 'does not begin with a number' <<'EOF'
  - wait: NaN
EOF
bad 'decimal comma' 'write `1.5 h`' <<'EOF'
  - wait: 1,5 h
EOF
bad 'two verbs' 'a step has one verb' <<'EOF'
  - {wash: detergent, dust: tack-cloth}
EOF
bad 'unknown part' 'no part or area `keel`' <<'EOF'
  - {wash: detergent, on: keel}
EOF
{ recipe <<'EOF'
  - wash: detergent
EOF
	echo 'shelf: ../no-such-shelf.yaml'; } >case.yaml
expect 'shelf that is not there' 2 'the shelf `../no-such-shelf.yaml` cannot be read' "$program" check case.yaml
{ recipe <<'EOF'
  - wash: detergent
EOF
	printf 'accept:\n  - {rule: decal-on-mat, because: tried}\n'; } >case.yaml
expect 'acceptance of an unknown rule' 2 '`decal-on-matt` is near' "$program" check case.yaml

# --- rulebooks ---------------------------------------------------------------------------------------------------------
good >good.yaml
rulebook() { # NAME SUBSTRING, file on standard input
	rm -rf book
	mkdir book
	cat >book/own.yaml
	expect "$1" 2 "$2" "$program" check --rules=book good.yaml
}
rulebook 'rule that adds minutes to micrometres' 'book/own.yaml:5:11: error: `gap + 3 µm` adds a time to a length' <<'EOF'
rules:
  odd-sum:
    about: adds what does not add up
    asks: contact
    when: gap + 3 µm > 5 min
    verdict: error
    says: odd
    from: practice
    shown_by: {breaks: [], holds: []}
EOF
rulebook 'rule with an unknown field' '`cured` is near' <<'EOF'
rules:
  odd-field:
    about: asks what nobody can say
    asks: contact
    when: under.curred > 5 %
    verdict: error
    says: odd
    from: practice
    shown_by: {breaks: [], holds: []}
EOF
rulebook 'entry without a basis' 'does not say where it comes from' <<'EOF'
coatings:
  own-paint: {kind: acrylic-lacquers, name: own paint, solids: 12 %}
EOF
rulebook 'figure out of its range' '`solids` is 400 %' <<'EOF'
coatings:
  own-paint: {kind: acrylic-lacquers, name: own paint, solids: 400 %, from: practice}
EOF
rulebook 'pattern that does not compile' 'the pattern does not compile' <<'EOF'
coatings:
  own-paint: {kind: acrylic-lacquers, name: own paint, known_as: 'own (paint', from: practice}
EOF
rulebook 'id that is there already' '`polystyrene` stands already in a layer below' <<'EOF'
substrates:
  polystyrene: {kind: styrenic, name: another, from: practice}
EOF
rulebook 'kinds in a circle' 'stands under itself' <<'EOF'
kinds:
  snake: {under: tail, name: snake, from: practice}
  tail: {under: snake, name: tail, from: practice}
EOF
mkdir nothing
expect 'rulebook folder without a file' 2 'no file of a rulebook' "$program" check --rules=nothing good.yaml
rm -rf book
mkdir book
cat >book/own.yaml <<'EOF'
coatings:
  endless-paint: {kind: acrylic-lacquers, name: endless paint, known_as: '(a|aa|a?a)+b', from: practice}
EOF
{ printf 'recipe: endless\nparts:\n  hull: {substrate: polystyrene}\nstack:\n  - coat: '
	head -c 60 /dev/zero | tr '\0' a; echo c; } >endless.yaml
expect 'pattern that backtracks without end' 2 'takes too long to compare' "$program" check --rules=book endless.yaml

# --- the command line ----------------------------------------------------------------------------------------------------
expect 'no command' 2 'tiecoat: a command is missing' "$program"
expect 'unknown command' 2 '`check` is near' "$program" chekc
expect 'unknown option' 2 '`--format` is near' "$program" check --formt=json good.yaml
expect 'unknown form' 2 'text, line, json, jsonl, sarif or junit' "$program" check --format=xml good.yaml
expect 'option without its argument' 2 'needs an argument' "$program" check --output
expect 'unknown rule' 2 '`decal-on-matt` is near' "$program" rules decal-on-mat
expect 'unknown name' 2 '`polystyrene` is near' "$program" look polystyren

# --- the system ----------------------------------------------------------------------------------------------------------
$limit "$program" check good.yaml >/dev/full 2>err
status=$?
: >out
trouble=
[ $status = 2 ] || trouble="exit $status, not 2"
grep -q 'tiecoat: .*No space left' err || trouble="$trouble; no message"
verdict 'full disk, standard output' "${trouble#; }"
expect 'full disk, --output' 2 'No space left' "$program" check --output=/dev/full good.yaml
expect '--output into a folder that is not there' 2 'tiecoat: cannot write' "$program" check --output=none/report.txt good.yaml

for form in text line json; do
	rm -f report*
	printf 'rules: [' >book/own.yaml
	$limit "$program" check --format=$form --rules=book --output=report good.yaml >out 2>err
	status=$?
	trouble=
	[ $status = 2 ] || trouble="exit $status, not 2"
	[ -z "$(ls report* 2>/dev/null)" ] || trouble="$trouble; left $(ls report*)"
	verdict "no file left of a bad rulebook, $form" "${trouble#; }"
done

# A reader that is gone: no message, exit 2.
{ sleep 0.5; $limit "$program" rules 2>err; echo $? >status; } | :
: >out
trouble=
[ "$(cat status)" = 2 ] || trouble="exit $(cat status), not 2"
[ ! -s err ] || trouble="$trouble; said something"
verdict 'closed pipe' "${trouble#; }"

mkdir shut
good >shut/plan.yaml
chmod 000 shut
if [ "$(id -u)" != 0 ]; then
	expect 'folder without permission' 2 'Permission denied' "$program" check shut
elif command -v setpriv >/dev/null 2>&1 && setpriv --reuid=65534 --regid=65534 --clear-groups test -x "$program"; then
	expect 'folder without permission' 2 'Permission denied' \
		setpriv --reuid=65534 --regid=65534 --clear-groups "$program" check "$root/shut"
else
	skipped=$((skipped + 1))
	echo "skip  folder without permission: no other user can run the program here"
fi
chmod 755 shut

# --- several faults in one file, and one fault among several files ------------------------------------------------------------
recipe >many.yaml <<'EOF'
  - wash: detergnet
  - {coat: waterborne-primer, caots: 2}
  - wait: 3
EOF
$limit "$program" check --format=line many.yaml >out 2>err
status=$?
trouble=
[ $status = 2 ] || trouble="exit $status, not 2"
[ "$(grep -c ': error: ' out)" = 3 ] || trouble="$trouble; $(grep -c ': error: ' out) messages, not 3"
verdict 'three faults, three messages' "${trouble#; }"
$limit "$program" check --format=json many.yaml good.yaml >out 2>err
status=$?
trouble=
[ $status = 2 ] || trouble="exit $status, not 2"
grep -q '"recipe": "Ferry, trial piece"' out || trouble="$trouble; the good one is not in the report"
grep -q '"complete": true' out || trouble="$trouble; the document is not closed"
verdict 'a good recipe beside a bad one' "${trouble#; }"

[ $skipped = 0 ] || echo "$skipped skipped"
echo "summary: $passed passed, $failed failed"
echo "$passed passed, $failed failed"
[ $failed = 0 ]
