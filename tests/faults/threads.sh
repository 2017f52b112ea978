#!/bin/sh
# The same bytes and the same status from any number of threads, in every form: sound, faulty and broken files together.
# threads.sh [PROGRAM]; under the thread sanitizer its reports make the status differ.
set -u
program=${1:-${TIECOAT:-build/tiecoat}}
case $program in /*) ;; *) program=$PWD/$program ;; esac
LC_ALL=C.UTF-8
export LC_ALL
here=$PWD
root=$(mktemp -d) || exit 2
trap 'rm -rf "$root"' EXIT
passed=0
failed=0
mkdir "$root/plans"
for i in 1 2 3 4; do
	for file in "$here"/examples/*.yaml; do
		cp "$file" "$root/plans/$(basename "$file" .yaml)-$i.yaml"
	done
	printf 'recipe: [%s\n' $i >"$root/plans/broken-$i.yaml"
	printf 'tools: [brush]\n' >"$root/plans/tools-$i.yaml"
	mkdir "$root/plans/more-$i"
	cp -r "$here"/examples/collection/* "$root/plans/more-$i/"
done
ln -s nowhere.yaml "$root/plans/dangling.yaml"
ln -s . "$root/plans/loop"
ln -s self.yaml "$root/plans/self.yaml"
cd "$root" || exit 2

forms=$("$program" check --help | sed -n '/--format/,/--at-least/p' | tr -c 'a-z' '\n' | grep -xE 'text|line|json|jsonl|sarif|junit' | sort -u)
for form in $forms; do
	for quiet in '' --quiet; do
		"$program" check --jobs=1 --format="$form" $quiet plans none.yaml >one 2>one.err
		wanted=$?
		for jobs in 2 3 16; do
			"$program" check --jobs=$jobs --format="$form" $quiet plans none.yaml >many 2>many.err
			status=$?
			trouble=
			[ $status = $wanted ] || trouble="exit $status, not $wanted"
			cmp -s one many || trouble="$trouble; other bytes than one thread"
			cmp -s one.err many.err || trouble="$trouble; other messages than one thread"
			[ -s one ] || trouble="$trouble; nothing was written"
			if [ -z "$trouble" ]; then
				passed=$((passed + 1))
			else
				failed=$((failed + 1))
				echo "FAIL  $form $quiet --jobs=$jobs: ${trouble#; }"
				diff one many | head -n 6
				head -n 20 many.err
			fi
		done
	done
done

# A list instead of a folder, and a ledger written from either, give the same.
find plans -name '*.yaml' ! -name 'tools-*' ! -name 'broken-*' ! -name 'dangling*' ! -name 'self*' ! -path '*/loop*' | LC_ALL=C sort >list
for jobs in 1 5; do
	"$program" check --jobs=$jobs --files-from=list --ledger=ledger-$jobs --write-ledger >/dev/null 2>&1
	[ $? = 0 ] || { failed=$((failed + 1)); echo "FAIL  writing a ledger with --jobs=$jobs"; }
done
if cmp -s ledger-1 ledger-5 && [ "$(wc -l <ledger-1)" -gt 10 ]; then
	passed=$((passed + 1))
else
	failed=$((failed + 1))
	echo 'FAIL  the ledgers of one and of five threads differ'
fi
echo "summary: $passed passed, $failed failed"
[ $failed = 0 ]
