#!/bin/sh
# What can go wrong while a collection is checked: files that vanish or may not be read, folders without end, a full disk, a
# reader that leaves, interruptions. Nothing is lost, it is said, and the status is right. collection.sh [PROGRAM]
set -u
program=${1:-${TIECOAT:-build/tiecoat}}
case $program in /*) ;; *) program=$PWD/$program ;; esac
LC_ALL=C.UTF-8
export LC_ALL
repository=$PWD
root=$(mktemp -d) || exit 2
trap 'chmod -R u+rwx "$root" 2>/dev/null; rm -rf "$root"' EXIT
chmod 755 "$root"
cd "$root" || exit 2
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
		tail -n 5 out err 2>/dev/null | cut -c1-200 | sed 's/^/      | /'
	fi
}

# expect NAME STATUS SUBSTRING COMMAND…; the substring in what it writes or says; `-`: it says nothing on standard error.
expect() {
	name=$1 wanted=$2 text=$3
	shift 3
	timeout 60 "$@" >out 2>err </dev/null
	status=$?
	trouble=
	[ $status = "$wanted" ] || trouble="exit $status, not $wanted"
	case $text in
	-) [ ! -s err ] || trouble="$trouble; said something" ;;
	*) cat out err | grep -qF -- "$text" || trouble="$trouble; no message with \`$text\`" ;;
	esac
	verdict "$name" "${trouble#; }"
}

wait_for() { # COMMAND…: until it succeeds, 20 s at most
	for _ in $(seq 200); do
		"$@" 2>/dev/null && return 0
		sleep 0.1
	done
	return 1
}

sh "$repository/tests/bench/corpus.sh" 600 plans
last=$(find plans -name '*.yaml' | LC_ALL=C sort | tail -n 1)

# --- files -------------------------------------------------------------------------------------------------------------
# A slow reader holds the run up: what is removed meanwhile is still to come.
for jobs in 1 4; do
	sh "$repository/tests/bench/corpus.sh" 600 "vanish-$jobs"
	gone=$(find "vanish-$jobs" -name '*.yaml' | LC_ALL=C sort | tail -n 1)
	mkfifo slow
	{ timeout 60 "$program" check --jobs=$jobs "vanish-$jobs" 2>err; echo $? >status; } >slow &
	exec 3<slow
	head -c 1000 <&3 >out
	rm "$gone"
	cat <&3 >>out
	exec 3<&-
	wait
	rm slow
	trouble=
	[ "$(cat status)" = 2 ] || trouble="exit $(cat status), not 2"
	grep -qF "$gone: error: cannot read: No such file" out || trouble="$trouble; not told"
	grep -q '^599 recipes: .*1 file could not be read' out || trouble="$trouble; the others are not all there"
	verdict "a file that vanishes, --jobs=$jobs" "${trouble#; }"
done

cp "$repository/examples/ferry.yaml" good.yaml
mkdir shut
cp good.yaml shut/a.yaml
cp good.yaml shut/b.yaml
chmod 000 shut/b.yaml
as_nobody='setpriv --reuid=65534 --regid=65534 --clear-groups'
[ "$(id -u)" = 0 ] || as_nobody=
if [ -z "$as_nobody" ] || { $as_nobody test -x "$program" && $as_nobody test -r "$root/shut/a.yaml"; } 2>/dev/null; then
	expect 'a file that may not be read' 2 'shut/b.yaml: error: cannot read: Permission denied' \
		$as_nobody "$program" check --format=line "$root/shut"
	expect 'the one beside it is judged' 2 '1 recipe' $as_nobody "$program" check "$root/shut"
else
	skipped=$((skipped + 2))
	echo 'skip  a file that may not be read: no other user can run the program here'
fi

mkdir odd
cp good.yaml odd/plan.yaml
mkfifo odd/pipe.yaml
ln -s . odd/circle
ln -s ../odd odd/again.yaml
expect 'pipes and linked folders in a folder are passed over' 0 '"recipes": 1,' "$program" check --format=json odd
ln -s loop.yaml odd/loop.yaml
expect 'a link to itself is told' 2 'odd/loop.yaml: error: cannot read: Too many levels' "$program" check --format=line odd
rm odd/loop.yaml

deep=nest
mkdir $deep
for _ in $(seq 120); do deep=$deep/a-folder-with-a-long-name; mkdir $deep; done
cp good.yaml $deep/plan.yaml
expect '120 folders deep' 0 '"recipes": 1,' "$program" check --format=json nest

mkdir wide
seq 200000 | sed 's@.*@wide/&.yaml@' | xargs touch
cp good.yaml wide/199999.yaml
if [ -x /usr/bin/time ]; then
	timeout 60 /usr/bin/time -o used -f '%M' "$program" check --format=json wide >out 2>err
else
	timeout 60 "$program" check --format=json wide >out 2>err
fi
status=$?
trouble=
[ $status = 0 ] || trouble="exit $status, not 0"
grep -q '"recipes": 1,' out || trouble="$trouble; not one recipe"
if [ -s used ] && ! nm "$program" 2>/dev/null | grep -qE '__(asan|tsan)_init'; then
	[ "$(tail -n 1 used)" -lt 65536 ] || trouble="$trouble; $(tail -n 1 used) kB"
fi
verdict 'a folder of 200 000 entries, within a minute and 64 MB' "${trouble#; }"
rm -rf wide

# --- lists -------------------------------------------------------------------------------------------------------------
printf 'good.yaml\nnone.yaml\n' >list
expect 'a list with a file that is not there' 2 'none.yaml: error: cannot read: No such file' "$program" check --files-from=list
expect 'a list that is not there' 2 'no-list: error: cannot read this list' "$program" check --files-from=no-list
expect 'an empty list' 0 'no recipe was judged' "$program" check --files-from=/dev/null
{ head -c 100000 /dev/zero | tr '\0' a; echo; } >list
expect 'a path of 100 kB in a list' 2 'File name too long' "$program" check --files-from=list
printf 'a[b\n' >odd/.tiecoat-ignore
expect 'an ignore file with a bad glob' 2 'odd/.tiecoat-ignore:1:1: error: `a[b` is no glob' "$program" check --format=line odd
rm odd/.tiecoat-ignore
expect 'a bad glob' 2 'tiecoat: --exclude: ' "$program" check --exclude='a[b' odd
expect 'standard input twice' 2 'not both' "$program" check --files-from=- -
expect 'no such number of jobs' 2 '--jobs is a number' "$program" check --jobs=0 odd
expect 'a ledger that is not there' 2 '--write-ledger makes it' "$program" check --ledger=none.ledger odd
echo 'recipe: no ledger' >bad.ledger
expect 'a ledger that is none' 2 'this is no ledger' "$program" check --ledger=bad.ledger odd
printf 'tiecoat-ledger 1 1\n0123 error x y\n' >bad.ledger
expect 'a ledger with a broken line' 2 'bad.ledger:2: this is no entry' "$program" check --ledger=bad.ledger odd
expect 'a ledger is not written where something was not read' 2 'new.ledger was not written' \
	"$program" check --ledger=new.ledger --write-ledger odd none.yaml
[ ! -e new.ledger ] || { failed=$((failed + 1)); echo 'FAIL  new.ledger is there'; }

# --- settings ----------------------------------------------------------------------------------------------------------
mkdir ruled
cp good.yaml ruled/plan.yaml
setting() { # NAME SUBSTRING, settings on standard input
	cat >ruled/tiecoat-settings.yaml
	expect "$1" 2 "$2" "$program" check --format=line ruled
}
setting 'settings: unknown key' '`workshop` is near' <<'E'
worksop: {humidity: 50 %}
E
setting 'settings: humidity without a unit' 'ruled/tiecoat-settings.yaml:1:22: error: `50` has no unit' <<'E'
workshop: {humidity: 50}
E
setting 'settings: unknown family on the shelf' '[unknown-name]' <<'E'
shelf: {red: {family: waterborne-acrylik}}
E
setting 'settings: what cannot be required' '`humidity` is near' <<'E'
require: [humidty]
E
setting 'settings: threshold' 'write note, warning or error' <<'E'
at_least: worst
E
setting 'settings: bad glob' 'is no glob' <<'E'
exclude: ['a[b']
E
setting 'settings: no YAML' '[yaml-syntax]' <<'E'
exclude: [
E
setting 'settings: a recipe' 'files of this name hold settings' <<'E'
recipe: misplaced
E
setting 'settings: rulebooks that are not there' 'no-rules' <<'E'
rules: no-rules
E
rm -rf ruled

# Folders whose settings name different rulebooks: each is told, with what it wants and what the run has; the others are judged.
for house in north south; do
	mkdir -p houses/$house/book
	printf 'retire:\n  decal-on-satin: not in the %s\n' $house >houses/$house/book/book.yaml
	echo 'rules: book' >houses/$house/tiecoat-settings.yaml
	cp good.yaml houses/$house/plan.yaml
done
mkdir houses/yard
cp good.yaml houses/yard/plan.yaml
expect 'settings: two rulebooks in one collection' 2 \
	'houses/south/tiecoat-settings.yaml:1:8: error: these settings lay houses/south/book over the built-in rulebook, and this run lays nothing over it' \
	"$program" check --format=line houses
expect 'settings: a folder beside them is judged' 2 '"recipes": 1,' "$program" check --format=json houses
expect 'settings: the rulebook of the first path counts' 2 'and this run lays houses/north/book over it' \
	"$program" check --format=line houses/north houses/south
expect 'settings: each in a run of its own' 0 '"because": "not in the south"' "$program" check --format=json houses/south
expect 'settings: one rulebook for all, by --rules' 0 '"recipes": 3,' "$program" check --format=json --rules=houses/north/book houses
rm -rf houses

# --- the system ----------------------------------------------------------------------------------------------------------
# A file that may not grow any more is a disk that is full.
(trap '' XFSZ; ulimit -f 64; timeout 60 "$program" check --output=report.txt plans) >out 2>err
status=$?
trouble=
[ $status = 2 ] || trouble="exit $status, not 2"
grep -q 'tiecoat: cannot write report.txt: ' err || trouble="$trouble; not told"
[ -z "$(ls report.txt* 2>/dev/null)" ] || trouble="$trouble; left $(ls report.txt*)"
verdict 'the disk is full in the middle of --output' "${trouble#; }"
timeout 60 "$program" check plans >/dev/full 2>err
status=$?
: >out
trouble=
[ $status = 2 ] || trouble="exit $status, not 2"
[ "$(grep -c 'No space left' err)" = 1 ] || trouble="$trouble; told $(grep -c 'No space left' err) times"
verdict 'the disk is full in the middle of standard output' "${trouble#; }"

for jobs in 1 4; do
	{ timeout 60 "$program" check --jobs=$jobs plans 2>err; echo $? >status; } | head -c 1000 >out
	trouble=
	wait_for test -s status || trouble='it did not end'
	[ "$(cat status)" = 2 ] || trouble="$trouble; exit $(cat status), not 2"
	[ ! -s err ] || trouble="$trouble; said something"
	verdict "a reader that leaves, --jobs=$jobs" "${trouble#; }"
	rm -f status
done

# --- interruptions -------------------------------------------------------------------------------------------------------
# The run waits for its slow reader while the signal comes.
for signal in INT TERM; do
	for jobs in 1 4; do
		mkfifo slow
		# a background job of a shell ignores SIGINT, unless that is taken back
		{ env --default-signal=INT sh -c 'echo $$ >pid; exec "$0" "$@"' "$program" check --format=json --jobs=$jobs plans 2>err; echo $? >status; } >slow &
		exec 3<slow
		head -c 1000 <&3 >out
		kill -$signal "$(cat pid)"
		cat <&3 >>out
		exec 3<&-
		wait
		rm slow
		trouble=
		[ "$(cat status)" = 2 ] || trouble="exit $(cat status), not 2"
		grep -q '^ "complete": false,$' out || trouble="$trouble; not said to be incomplete"
		[ "$(tail -n 1 out)" = '}' ] || trouble="$trouble; the document is not closed"
		[ "$(grep -c '^   "recipe": ' out)" = "$(sed -n 's/^  "recipes": \([0-9]*\),$/\1/p' out)" ] ||
			trouble="$trouble; the recipes are not as many as the summary says"
		[ "$(grep -c '^   "recipe": ' out)" -lt 600 ] || trouble="$trouble; it went on to the end"
		verdict "SIG$signal, --jobs=$jobs: a whole document" "${trouble#; }"
	done
done
sh "$repository/tests/bench/corpus.sh" 5000 many
env --default-signal=INT sh -c 'echo $$ >pid; exec "$0" "$@"' "$program" check --format=json --output=report.json many 2>err &
wait_for sh -c 'ls report.json.* >/dev/null'
kill -INT "$(cat pid)"
wait $!
status=$?
: >out
trouble=
[ $status = 2 ] || trouble="exit $status, not 2"
[ -z "$(ls report.json* 2>/dev/null)" ] || trouble="$trouble; left $(ls report.json*)"
verdict 'SIGINT with --output: no file' "${trouble#; }"
mkfifo list-pipe
{ env --default-signal=INT sh -c 'echo $$ >pid2; exec "$0" "$@"' "$program" check --jobs=1 --files-from=- <list-pipe >out 2>err; echo $? >status; } &
exec 4>list-pipe
echo good.yaml >&4
wait_for test -s pid2
sleep 0.3
kill -INT "$(cat pid2)"
trouble=
wait_for test -s status || trouble='it did not end'
exec 4>&-
wait
[ "$(cat status)" = 2 ] || trouble="$trouble; exit $(cat status), not 2"
verdict 'SIGINT while a list is waited for' "${trouble#; }"

# --- lists for the end of a document ---------------------------------------------------------------------------------------
# They are kept in files without a name; where these cannot be made, or the disk is full, in memory. The bytes are the same.
mkdir unread
seq 1500 | while read -r n; do printf 'recipe: Skiff %s\non: polystyrene\nstack: [{coat: no-such-paint}]\n' "$n" >unread/$n.yaml; done
for form in sarif json; do
	"$program" check --format=$form plans unread >kept.$form 2>err
	TMPDIR=$root/no-such-folder "$program" check --format=$form plans unread >held.$form 2>err
	(trap '' XFSZ; ulimit -f 64; "$program" check --format=$form plans unread 2>err) | cat >full.$form
	: >out
	trouble=
	[ "$(tail -n 1 kept.$form)" = '}' ] || trouble='the document is not closed'
	cmp -s kept.$form held.$form || trouble="$trouble; not the same without a folder for them"
	cmp -s kept.$form full.$form || trouble="$trouble; not the same with a full disk"
	[ "$(grep -c 'no-such-paint' kept.$form)" -ge 1500 ] || trouble="$trouble; not all messages"
	verdict "what stands at the end, $form" "${trouble#; }"
done
rm -rf unread kept.* held.* full.*
if [ -x /usr/bin/time ] && ! nm "$program" 2>/dev/null | grep -qE '__(asan|tsan)_init'; then
	# What is kept of computations grows for a while, whatever the form: JSON lines, which have nothing at their end, tell how much.
	grows() { # FORM: kB more for 5000 plans than for 600
		for count in plans many; do
			timeout 120 /usr/bin/time -o used.$count -f '%M' "$program" check --jobs=1 --format=$1 $count >/dev/null 2>err
		done
		echo $(($(tail -n 1 used.many) - $(tail -n 1 used.plans)))
	}
	lines=$(grows jsonl)
	: >out
	for form in sarif json; do
		more=$(grows $form)
		trouble=
		[ "$more" -lt $((lines + 1536)) ] || trouble="$more kB more for 5000 plans than for 600, of JSON lines $lines kB"
		verdict "the memory of $form does not grow with the files" "$trouble"
	done
else
	skipped=$((skipped + 2))
	echo 'skip  memory of SARIF and JSON: no `time` here, or sanitizers'
fi

# --- progress ----------------------------------------------------------------------------------------------------------
# Only a terminal shows how far the run is, and not where the report stands in the same one.
if command -v script >/dev/null 2>&1; then
	TERM=xterm script -qec "'$program' check --jobs=1 many >report.txt" typescript </dev/null >/dev/null 2>&1
	trouble=
	grep -q 'files' typescript || trouble='nothing on the terminal'
	grep -q ' files' report.txt && trouble="$trouble; it stands in the report"
	verdict 'progress on a terminal' "${trouble#; }"
	TERM=xterm script -qec "'$program' check --format=line --jobs=1 plans" typescript </dev/null >/dev/null 2>&1
	trouble=
	grep -q ' files' typescript && trouble='it stands in the report'
	verdict 'no progress within a report on the same terminal' "$trouble"
else
	skipped=$((skipped + 2))
	echo 'skip  progress: no `script` here to make a terminal'
fi
"$program" check --jobs=1 many >/dev/null 2>err
: >out
trouble=
[ ! -s err ] || trouble='something on standard error'
verdict 'no progress where there is no terminal' "$trouble"

[ $skipped = 0 ] || echo "$skipped skipped"
echo "summary: $passed passed, $failed failed"
[ $failed = 0 ]
