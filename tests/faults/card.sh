#!/bin/sh
# The command `card`: what it refuses, what it writes where, and under which names.
set -u
program=${1:-${TIECOAT:-build/tiecoat}}
case $program in /*) ;; *) program=$PWD/$program ;; esac
LC_ALL=C.UTF-8
SOURCE_DATE_EPOCH=1900000000
export LC_ALL SOURCE_DATE_EPOCH
root=$(mktemp -d) || exit 2
trap 'chmod -R u+rwx "$root"; rm -rf "$root"' EXIT
cd "$root" || exit 2
passed=0
failed=0

verdict() { # NAME TROUBLE
	if [ -z "$2" ]; then
		passed=$((passed + 1))
	else
		failed=$((failed + 1))
		echo "FAIL  $1: $2"
		sed 's/^/      | /' err | head -n 12
	fi
}

expect() { # NAME STATUS SUBSTRING-OF-STDERR ARGUMENT…
	name=$1 wanted=$2 text=$3
	shift 3
	timeout 20 "$program" card "$@" >out 2>err </dev/null
	status=$?
	trouble=
	[ "$status" = "$wanted" ] || trouble="exit $status, not $wanted"
	[ -z "$text" ] || grep -qF -- "$text" err || trouble="$trouble; no message with \`$text\`"
	[ -n "$text" ] || [ ! -s err ] || trouble="$trouble; a message"
	verdict "$name" "${trouble#; }"
}

holds() { # NAME FOLDER FILES…: these files and no others
	name=$1 folder=$2
	shift 2
	printf '%s\n' "$@" | LC_ALL=C sort >wanted
	(cd "$folder" && find . -type f | sed 's,^\./,,' | LC_ALL=C sort) >found
	trouble=
	cmp -s wanted found || trouble="there are: $(tr '\n' ' ' <found)"
	verdict "$name" "$trouble"
}

says() { # NAME FILE SUBSTRING
	trouble=
	grep -qF -- "$3" "$2" || trouble="no \`$3\` in $2"
	verdict "$1" "$trouble"
}

recipe() { # TITLE [TOP]
	printf 'recipe: %s\n%s\non: polystyrene\nstack:\n  - sand: P1000\n  - wait: 1 h\n  - {coat: mild-lacquer-primer, role: primer, coats: 2, pass: light, flash: 15 min}\n' "$1" "${2:-}"
}
recipe Skiff >skiff.yaml
recipe Dinghy 'start: 2031-05-14 19:00' >dinghy.yaml
{ recipe One; echo ---; recipe Two; } >two.yaml
mkdir -p fleet/north fleet/south none
recipe North >fleet/north/skiff.yaml
recipe South >fleet/south/Skiff.yaml
recipe Index >fleet/index.yaml
recipe Second >fleet/skiff-2.yaml
recipe Odd >'fleet/- näme #1 <b>.yaml'
recipe Odd >'fleet/näme <b>.yaml'
printf 'recipe: Broken\non: polystyrene\nstack:\n  - coat: no-such-paint\n' >broken.yaml

expect 'no path' 2 'needs a file'
expect 'no such file' 2 'nowhere.yaml' nowhere.yaml
expect 'a folder without recipes' 2 'no recipe in none' none
expect 'no such form' 2 '--format is text, html, ical, csv or json' --format=sarif skiff.yaml
expect 'a start that is none' 2 '--start: ' --start='2031-02-30' skiff.yaml
expect 'a zone of the wrong shape' 2 '--zone: ' --zone=../etc skiff.yaml
expect 'a zone that nobody knows' 2 'Saltmarsh/Slip' --zone=Saltmarsh/Slip skiff.yaml
SOURCE_DATE_EPOCH=soon expect 'a moment that is none' 2 'SOURCE_DATE_EPOCH' skiff.yaml
expect 'a calendar without a start' 2 "--start='2031-05-17 18:30'" --format=ical skiff.yaml
verdict 'a calendar without a start writes nothing' "$([ -s out ] && echo it does)"
expect 'a calendar with a start' 0 '' --format=ical --start=2031-05-17 skiff.yaml
says 'a calendar with a start' out 'DTSTART:20310517T000000'
expect 'a calendar with a zone' 0 '' --format=ical --zone=Etc/UTC dinghy.yaml
says 'a calendar with a zone' out 'DTSTART;TZID=Etc/UTC:20310514T190000'
recipe Today 'sessions: daily 19:00 to 22:00' >today.yaml
expect 'hours without a start begin today' 0 '' today.yaml
says 'hours without a start begin today' out 'begins   Sun 17 Mar 2030 19:00'
expect 'what cannot be read' 2 'unknown-name' broken.yaml
expect 'one that can be read beside one that cannot' 2 'unknown-name' broken.yaml skiff.yaml
says 'one that can be read beside one that cannot' out 'Skiff'
for form in html ical csv; do
	expect "several of $form on one output" 2 '--output=DIR/' --format=$form --start=2031-05-17 skiff.yaml dinghy.yaml
	expect "a folder of $form on one output" 2 '--output=DIR/' --format=$form --start=2031-05-17 fleet
	expect "a file with two of $form on one output" 2 '--output=DIR/' --format=$form --start=2031-05-17 two.yaml
done
verdict 'two of a form on one output write nothing' "$([ -s out ] && echo it does)"
expect 'two of html in one file' 2 '--output=DIR/' --format=html -o two.html two.yaml
verdict 'two of html in one file leave none' "$([ -e two.html ] && echo it is there)"
expect 'two texts' 0 '' two.yaml
says 'two texts: the first' out One
says 'two texts: the second' out Two
expect 'two of JSON' 0 '' --format=json two.yaml
verdict 'two of JSON are an array' "$(head -c 2 out | grep -q '\[' || echo not)"
expect 'one of JSON' 0 '' --format=json skiff.yaml
verdict 'one of JSON is an object' "$(head -c 2 out | grep -q '{' || echo not)"
timeout 20 "$program" card - <skiff.yaml >out 2>err
says 'standard input' out Skiff
expect 'a file' 0 '' -o skiff.txt skiff.yaml
says 'a file' skiff.txt Skiff
expect 'a file in a folder that is not there' 2 'no/skiff.txt' -o no/skiff.txt skiff.yaml
mkdir shut && chmod 555 shut
if [ "$(id -u)" != 0 ]; then
	expect 'a folder that is shut' 2 'shut' --format=html -o shut/ skiff.yaml
fi
expect 'a folder below one that is not there' 2 'no/cards' --format=html -o no/cards/ skiff.yaml

expect 'pages of a folder' 0 '' --format=html --output=pages fleet
holds 'pages of a folder' pages index.html index-2.html n--me--b-.html n--me--1--b-.html skiff-2.html skiff.html Skiff-3.html
says 'the index names what it was made of' pages/index.html 'North'
cp -r pages first
expect 'pages again' 0 '' --format=html --output=pages/ fleet
verdict 'pages again are the same' "$(diff -r first pages | head -n 3)"
expect 'calendars of a folder' 0 '' --format=ical --start=2031-05-17 --output=dates/ two.yaml dinghy.yaml
holds 'calendars of a folder' dates two.ics two-2.ics dinghy.ics
expect 'pages, one cannot be read' 2 'unknown-name' --format=html -o some/ skiff.yaml broken.yaml
holds 'pages, one cannot be read' some index.html skiff.html
says 'the index says why one has no page' some/index.html 'no-such-paint'
expect 'lists of a folder' 0 '' --format=csv --output=lists/ fleet
verdict 'lists of a folder have no index' "$([ -e lists/index.html ] && echo it has)"
recipe Never 'start: 2031-05-12 19:00
sessions: mon 19:00 to 19:20' >never.yaml
sed -i 's/wait: 1 h/wait: 1 h/; s/sand: P1000/{sand: P1000, takes: 40 min}/' never.yaml
expect 'no timetable' 1 '' never.yaml
says 'no timetable' out 'Why there is no timetable'
expect 'no timetable, no calendar' 2 'no timetable' --format=ical never.yaml
expect 'no timetable among pages' 1 '' --format=html -o never/ never.yaml skiff.yaml
holds 'no timetable among pages' never index.html never.html skiff.html

echo "summary: $passed passed, $failed failed"
[ $failed = 0 ]
