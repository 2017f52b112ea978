#!/bin/sh
# A step for any build server: checks a collection, shows what is found, and leaves reports behind.
#
#     sh check.sh [PATH…]          from the collection's folder; without PATH all of it
#
# TIECOAT   the program (tiecoat)
# LEDGER    a ledger of known findings; used where the file is there (known-findings)
# REPORTS   a folder for the reports (reports): findings.sarif for code viewers, findings.xml for test viewers
# AT_LEAST  from which weight a finding fails the step; unset, what the settings say, or error
#
# Exit status: that of the check: 0 nothing of that weight, 1 something, 2 something could not be read.
set -u
tiecoat=${TIECOAT:-tiecoat}
ledger=${LEDGER:-known-findings}
reports=${REPORTS:-reports}
[ -f "$ledger" ] && set -- --ledger="$ledger" "$@"
[ -n "${AT_LEAST:-}" ] && set -- --at-least="$AT_LEAST" "$@"
mkdir -p "$reports" || exit 2

# Lines first: they stand in the step's log. A report that could not be written is trouble, findings in it are not.
"$tiecoat" check --format=line "$@"
status=$?
for form in sarif junit; do
	case $form in sarif) name=findings.sarif ;; *) name=findings.xml ;; esac
	"$tiecoat" check --format=$form --output="$reports/$name" "$@" 2>/dev/null
	[ -f "$reports/$name" ] || { echo "check.sh: $reports/$name was not written" >&2; status=2; }
done
exit $status
