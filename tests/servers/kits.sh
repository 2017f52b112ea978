#!/bin/sh
# The kits of docs/ci against what their servers read them with: the workflow by the parser that its server publishes, the pipeline by its
# server's JSON Schema, and run in a shell; the container file by two linters, and its build without the container. What is
# misspelt must be refused. Wants node, npm and rsync, and fetches packages, so it is no part of `make check`. kits.sh [PROGRAM]
set -u
program=${1:-${TIECOAT:-build/tiecoat}}
case $program in /*) ;; *) program=$PWD/$program ;; esac
LC_ALL=C.UTF-8
export LC_ALL
source=$PWD
kits=$PWD/docs/ci
root=$(mktemp -d) || exit 2
trap 'rm -rf "$root"' EXIT
cd "$root" || exit 2
passed=0
failed=0

# is NAME STATUS COMMAND…; STATUS `bad`: any but 0
is() {
	name=$1 wanted=$2
	shift 2
	"$@" >out 2>err </dev/null
	status=$?
	[ $status = 0 ] || [ "$wanted" != bad ] || status=bad
	if [ $status = "$wanted" ]; then
		passed=$((passed + 1))
		echo "ok    $name"
	else
		failed=$((failed + 1))
		echo "FAIL  $name: exit $status, not $wanted"
		tail -n 5 out err | cut -c1-200
	fi
}

# spoilt FILE FROM TO: a copy in which FROM is TO; it must stand there
spoilt() {
	sed "s/$2/$3/" "$kits/$1" >"spoilt-$1"
	cmp -s "$kits/$1" "spoilt-$1" && { failed=$((failed + 1)); echo "FAIL  $1 has no $2"; }
}

npm init -y >/dev/null 2>&1
npm install --no-audit --no-fund --silent @actions/workflow-parser@0.3.61 esbuild@0.25 dockerfile-utils@0.16.3 \
	dockerfilelint@1.8.0 gitlab-ci-local@4.60.1 >npm.out 2>&1 || { tail -n 5 npm.out; echo 'the packages cannot be had'; exit 2; }

# --- the workflow ------------------------------------------------------------------------------------------------------
cat >workflow.mjs <<'END'
import { parseWorkflow, NoOperationTraceWriter, convertWorkflowTemplate } from "@actions/workflow-parser";
import fs from "node:fs";
async function main() {
	const path = process.argv[2];
	const result = parseWorkflow({ name: path, content: fs.readFileSync(path, "utf8") }, new NoOperationTraceWriter());
	if (result.value)
		await convertWorkflowTemplate(result.context, result.value);
	for (const error of result.context.errors.getErrors())
		console.log(error.message);
	process.exit(result.context.errors.count ? 1 : 0);
}
main();
END
npx esbuild workflow.mjs --bundle --platform=node --format=cjs --outfile=workflow.cjs --log-level=error
is 'workflow: read by its server'\''s parser' 0 node workflow.cjs "$kits/github-actions.yml"
spoilt github-actions.yml runs-on run-on
is 'workflow: a key misspelt' 1 node workflow.cjs spoilt-github-actions.yml
spoilt github-actions.yml 'hashFiles(' 'hashFile('
is 'workflow: no such function' 1 node workflow.cjs spoilt-github-actions.yml
spoilt github-actions.yml 'security-events: write' 'security-events: all'
is 'workflow: no such permission' 1 node workflow.cjs spoilt-github-actions.yml

# --- the pipeline ------------------------------------------------------------------------------------------------------
mkdir -p collection/ci bin
ln -s "$program" bin/tiecoat
PATH=$root/bin:$PATH
export PATH
cp -r "$source/examples/collection/." collection/
cp "$kits/check.sh" collection/ci/
cp "$kits/gitlab-ci.yml" collection/.gitlab-ci.yml
cd collection || exit 2
git init -q -b main .
git config user.name tester
git config user.email tester@example.org
git remote add origin https://example.org/recipes/recipes.git
git add .
git commit -q -m first
pipeline="$root/node_modules/.bin/gitlab-ci-local"
is 'pipeline: fits its server'\''s schema' 0 "$pipeline" --list
is 'pipeline: run in a shell' 0 "$pipeline" --force-shell-executor recipes
is 'pipeline: the reports are kept' 0 grep -q '<testsuites' reports/findings.xml
cp "$source/examples/ferry-decal-on-matt.yaml" boats/marks.yaml
git add boats/marks.yaml
is 'pipeline: a finding fails it' 1 "$pipeline" --force-shell-executor recipes
cd ..
spoilt gitlab-ci.yml artifacts artefacts
cp spoilt-gitlab-ci.yml collection/
is 'pipeline: a key misspelt' bad sh -c "cd collection && '$pipeline' --file spoilt-gitlab-ci.yml --list"
spoilt gitlab-ci.yml 'when: always' 'when: ever'
cp spoilt-gitlab-ci.yml collection/
is 'pipeline: no such word' bad sh -c "cd collection && '$pipeline' --file spoilt-gitlab-ci.yml --list"

# --- the container -----------------------------------------------------------------------------------------------------
is 'container: first linter' 0 npx dockerfile-utils lint "$kits/Containerfile"
is 'container: second linter' 0 npx dockerfilelint "$kits/Containerfile"
spoilt Containerfile '^COPY src' 'COPPY src'
is 'container: an instruction misspelt' 1 npx dockerfile-utils lint spoilt-Containerfile
mkdir build made
for from in $(sed -n 's/^COPY \([^-].*\) [^ ]*$/\1/p' "$kits/Containerfile"); do
	(cd "$source" && git archive HEAD "$from") | tar -x -C build
done
run=$(sed -n 's/^RUN \(make .*\)/\1/p' "$kits/Containerfile" | sed "s#/made#$root/made#")
is 'container: what is copied is enough to build' 0 sh -c "cd build && $run"
is 'container: the program runs as installed' 0 "$root/made/usr/bin/tiecoat" check "$source/examples/ferry.yaml"
for library in $(ldd made/usr/bin/tiecoat | sed -n 's/.*=> \(\/[^ ]*\) .*/\1/p'); do
	owner=$(dpkg -S "$(readlink -f "$library")" 2>/dev/null || dpkg -S "*/$(basename "$(readlink -f "$library")")" 2>/dev/null)
	owner=${owner%%:*}
	case $owner in libc6*) continue ;; esac
	is "container: $owner is put in" 0 grep -q "install.*\<$owner\>" "$kits/Containerfile"
done

echo "summary: $passed passed, $failed failed"
[ $failed = 0 ]
