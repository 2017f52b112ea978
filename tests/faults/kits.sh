#!/bin/sh
# The kits of docs/ci: the shell step leaves its reports and the right status, the hook refuses what it should, and the files
# for build servers are YAML. kits.sh [PROGRAM]
set -u
program=${1:-${TIECOAT:-build/tiecoat}}
case $program in /*) ;; *) program=$PWD/$program ;; esac
LC_ALL=C.UTF-8
export LC_ALL
kits=$PWD/docs/ci
examples=$PWD/examples
root=$(mktemp -d) || exit 2
trap 'rm -rf "$root"' EXIT
cd "$root" || exit 2
passed=0
failed=0

# is NAME STATUS COMMAND…
is() {
	name=$1 wanted=$2
	shift 2
	"$@" >out 2>err </dev/null
	status=$?
	if [ $status = "$wanted" ]; then
		passed=$((passed + 1))
		echo "ok    $name"
	else
		failed=$((failed + 1))
		echo "FAIL  $name: exit $status, not $wanted"
		tail -n 5 out err | cut -c1-200
	fi
}

# --- the shell step ----------------------------------------------------------------------------------------------------
mkdir plans
cp "$examples/ferry.yaml" plans/
TIECOAT=$program
export TIECOAT
is 'step: a sound collection' 0 sh "$kits/check.sh" plans
is 'step: SARIF is there' 0 grep -q '"version": "2.1.0"' reports/findings.sarif
is 'step: JUnit XML is there' 0 grep -q '<testsuites' reports/findings.xml
cp "$examples/ferry-decal-on-matt.yaml" plans/
is 'step: a finding' 1 sh "$kits/check.sh" plans
is 'step: it stands in the reports' 0 grep -q decal-on-matt reports/findings.sarif reports/findings.xml
is 'writing a ledger' 0 "$program" check --ledger=known-findings --write-ledger plans
is 'step: nothing new' 0 sh "$kits/check.sh" plans
echo 'recipe: [' >plans/broken.yaml
is 'step: something cannot be read' 2 sh "$kits/check.sh" plans
rm -rf plans reports known-findings

# --- the hook ----------------------------------------------------------------------------------------------------------
if command -v git >/dev/null 2>&1; then
	git init -q repository
	cd repository || exit 2
	git config user.name tester
	git config user.email tester@example.org
	cp "$kits/pre-commit" .git/hooks/pre-commit
	chmod +x .git/hooks/pre-commit
	cp -r "$examples/collection/." .
	git add .
	is 'hook: sound recipes with a shelf beside them' 0 git commit -q -m first
	cp "$examples/ferry-decal-on-matt.yaml" boats/marks.yaml
	git add boats/marks.yaml
	is 'hook: a recipe with an error' 1 git commit -q -m second
	cat out err >said
	is 'hook: it says which' 0 grep -q 'boats/marks.yaml:28:5: error:' said
	cp "$examples/ferry.yaml" boats/marks.yaml # the folder is sound now, what is staged is not
	is 'hook: what is staged counts, not what lies there' 1 git commit -q -m third
	git add boats/marks.yaml
	is 'hook: mended' 0 git commit -q -m fourth
	echo 'no recipe' >notes.txt
	git add notes.txt
	is 'hook: no recipe is changed' 0 git commit -q -m fifth
	git rm -q boats/marks.yaml
	is 'hook: a recipe is taken out' 0 git commit -q -m sixth
	cd ..
else
	echo 'skip  the hook: git is not here'
fi

# --- files for build servers ---------------------------------------------------------------------------------------------
for file in "$kits"/*.yml; do
	"$program" check "$file" >out 2>err
	if grep -q 'no recipe in this file' out && ! grep -q 'yaml-syntax' out; then
		passed=$((passed + 1))
	else
		failed=$((failed + 1))
		echo "FAIL  $(basename "$file") is no YAML"
		cat out
	fi
done
echo "summary: $passed passed, $failed failed"
[ $failed = 0 ]
