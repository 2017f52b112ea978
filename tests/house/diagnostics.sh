#!/bin/sh
# Every identifier that a diagnostic carries stands in src/base/diag_ids.def, and nothing stands there that none carries.
# Looked for: the first plain word in quotes among the arguments of a call that reports a fault.
set -u
used=$(cat src/*/*.c src/*/*.h | perl -0777 -ne '
	while (/\b(?:tc_diag_add|tc_refuse|\w*(?:say|fault|refuse|complain|error|bad|wrong|warn|report|reject)\w*)\s*\(([^;"]*?)"([a-z]+(?:-[a-z]+)*)"\s*[,)?:]/g) { print "$2\n" }
	while (/\bid\s*=\s*(?:[^;"]*\?\s*)?"([a-z]+(?:-[a-z]+)*)"/g) { print "$1\n" }
	while (/\?\s*"([a-z]+(?:-[a-z]+)+)"\s*:\s*"([a-z]+(?:-[a-z]+)+)"/g) { print "$1\n$2\n" }' | sort -u)
used=$(echo "$used" | grep -vxE "time|session|steps|breaks|compares|says|read|write|words|adds|subtracts")
known=$(sed -n 's/^DIAG("\([a-z-]*\)".*/\1/p' src/base/diag_ids.def | sort -u)
bad=0
for id in $used; do
	echo "$known" | grep -qx -- "$id" || { echo "$id is used and has no row in src/base/diag_ids.def"; bad=1; }
done
for id in $known; do
	grep -qF "\"$id\"" src/*/*.c src/*/*.h || { echo "$id has a row in src/base/diag_ids.def and nobody uses it"; bad=1; }
done
twice=$(sed -n 's/^DIAG("\([a-z-]*\)".*/\1/p' src/base/diag_ids.def | sort | uniq -d)
[ -z "$twice" ] || { echo "twice: $twice"; bad=1; }
echo "summary: $(echo "$known" | wc -l) identifiers"
exit $bad
