#!/bin/sh
# The examples against their expected output, whole messages with lines and columns:
#   run.sh            compare
#   run.sh --accept   write the expected output anew; read the difference before it is committed
# A recipe examples/NAME.yaml has NAME.txt, NAME.line and NAME.json here; the first line of NAME.txt is its exit status. The
# rulebook's version is left out of the comparison, since it changes with every comment in the rulebook.
set -u
program=${TIECOAT:-build/tiecoat}
here=tests/golden
accept=
[ "${1:-}" = --accept ] && accept=yes
LC_ALL=C.UTF-8
export LC_ALL
unset NO_COLOR
new=$(mktemp) || exit 2
trap 'rm -f "$new"' EXIT
passed=0
failed=0

compare() { # NAME: $new against the expected file
	if [ -n "$accept" ]; then
		cp "$new" "$here/$1"
		chmod 644 "$here/$1"
	elif [ -f "$here/$1" ] && diff -u "$here/$1" "$new"; then
		passed=$((passed + 1))
	else
		[ -f "$here/$1" ] || echo "$here/$1 is not there: run $here/run.sh --accept"
		failed=$((failed + 1))
	fi
}

run() { # NAME ARGUMENT…
	name=$1
	shift
	"$program" "$@" >"$new.out" 2>"$new.err"
	status=$?
	{
		echo "exit $status"
		cat "$new.out"
		sed 's/^/stderr: /' "$new.err"
	} | sed 's/^\(  "version": "\)[0-9a-f]*"/\1…"/' >"$new"
	rm -f "$new.out" "$new.err"
	compare "$name"
}

# The JSON alone, so that it can be read by other programs.
run_json() {
	"$program" check --format=json "$2" | sed 's/^\(  "version": "\)[0-9a-f]*"/\1…"/' >"$new"
	compare "$1"
}

for recipe in examples/*.yaml; do
	name=$(basename "$recipe" .yaml)
	run "$name.txt" check "$recipe"
	run "$name.line" check --format=line "$recipe"
	run_json "$name.json" "$recipe"
done
for plans in examples/faults/*.yaml; do
	run "faults-$(basename "$plans" .yaml).line" check --format=line "$plans"
done
run collection.txt check examples/collection
run collection-quiet.txt check --quiet --at-least=note examples/collection
run collection.line check --format=line examples/collection
run_json collection.json examples/collection

# A collection with settings, an ignore file and a ledger.
shop=tests/golden/workshop
run workshop.line check --format=line $shop
run workshop-jobs.line check --format=line --jobs=3 $shop
run workshop-json.txt check --format=json --quiet $shop/boats/skiff.yaml
run workshop-no-settings.line check --format=line --no-settings $shop
run workshop-include.line check --format=line --include='d*.yaml' $shop
run workshop-exclude.line check --format=line --exclude=harbour/ --exclude='boats/s*' $shop
run workshop-at-least.line check --format=line --at-least=note $shop/harbour
run workshop-ledger.line check --format=line --ledger=$shop/known.ledger $shop/boats/dinghy.yaml $shop/harbour
run workshop-ledger.txt check --quiet --ledger=$shop/known.ledger $shop/boats/dinghy.yaml
run settings.txt settings $shop/boats $shop/harbour/shed.yaml
run versus.txt versus $shop/boats/dinghy.yaml $shop/harbour/shed.yaml
run settings.json settings --format=json $shop/boats $shop/harbour/shed.yaml
run versus.json versus --format=json $shop/boats/dinghy.yaml $shop/harbour/shed.yaml
run versus-gone.json versus --format=json --at-least=note examples/steam-pinnace-unwashed-casting.yaml examples/steam-pinnace.yaml
run versus-gone.txt versus examples/steam-pinnace-unwashed-casting.yaml examples/steam-pinnace.yaml
run versus-note.txt versus --at-least=note examples/ferry.yaml examples/ferry-decal-on-matt.yaml
printf '%s\n' $shop/boats/dinghy.yaml $shop/harbour/shed.yaml $shop/boats/drafts/draft.yaml $shop/tiecoat-settings.yaml >"$new.list"
run workshop-list.line check --format=line --files-from="$new.list"
tr '\n' '\0' <"$new.list" >"$new.nul"
run workshop-null.line check --format=line --null --files-from="$new.nul"
"$program" check --ledger=$shop/written.ledger --write-ledger --files-from="$new.list" >"$new.out" 2>&1
mv $shop/written.ledger "$new" || : >"$new"
compare workshop-written.ledger
mv "$new.out" "$new"
compare workshop-write.txt
rm -f "$new.list" "$new.nul"
run stdin.line check --format=line - <examples/ferry-decal-on-matt.yaml

# Cards in their forms; now is a moment of 2030.
SOURCE_DATE_EPOCH=1900000000
export SOURCE_DATE_EPOCH
cards() { # NAME ARGUMENT…
	card=$1
	shift
	for form in text json ical csv; do
		run "card/$card.$form" card --format=$form "$@"
	done
}
cards lifeboat-evenings examples/lifeboat-evenings.yaml
cards pilot-cutter --start='2031-05-17 10:00' examples/pilot-cutter.yaml
cards steam-pinnace --start='2031-05-17 10:00' --zone=Etc/UTC examples/steam-pinnace.yaml
cards conflict $here/card/conflict.yaml
cards hostile $here/card/hostile.yaml
run card/undated.text card examples/ferry.yaml
unset SOURCE_DATE_EPOCH

LC_ALL=C
run card/ascii.text card examples/lifeboat-evenings.yaml
run pilot-cutter-ascii.txt check examples/pilot-cutter.yaml
LC_ALL=C.UTF-8
run pilot-cutter-color.txt check --color=always examples/pilot-cutter.yaml
commands=$("$program" --help | sed -n '/^Commands/,$s/^  \([a-z][a-z]*\)  *[^ ].*/\1/p')
run help.txt --help
for command in $commands; do
	run "help-$command.txt" "$command" --help
done
run rule.txt rules lifts-half-cured-enamel
run code.txt rules --code=lifts-half-cured-enamel
run look.txt look polystyrene
run blank.txt blank

# Every option stands in the manual and in the completion.
for option in $(for command in $commands; do "$program" "$command" --help; done | grep -o -- '--[a-z][a-z-]*' | sort -u); do
	grep -q "Fl -${option#--}\>" docs/tiecoat.1 || { echo "$option is not in the manual"; failed=$((failed + 1)); }
	grep -q -e "$option\>" docs/completion/tiecoat.bash || { echo "$option is not completed"; failed=$((failed + 1)); }
done

[ -n "$accept" ] && { echo "accepted; $failed faults"; [ $failed = 0 ]; exit; }
echo "summary: $passed passed, $failed failed"
[ $failed = 0 ]
