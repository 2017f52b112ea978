#!/bin/sh
# The rulebook proves itself, and the proof finds what is wrong: examples that do not do what they say, and remedies that
# make another rule find an error.
set -u
tiecoat=${TIECOAT:-build/tiecoat}
LC_ALL=C.UTF-8
export LC_ALL
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
failed=0

wrong() {
	echo "$*"
	failed=$((failed + 1))
}

# The rulebook in standard input laid over the built-in one: status 1, and the output, its lines drawn together, has TEXT.
finds() { # TEXT
	mkdir -p "$work/over"
	cat >"$work/over/rules.yaml"
	"$tiecoat" rules --verify --rules "$work/over" 2>&1 | tr -s ' \n' '  ' >"$work/out"
	"$tiecoat" rules --verify --rules "$work/over" >/dev/null 2>&1
	[ $? = 1 ] || wrong "exit status other than 1, where is to be found: $1"
	grep -qF -- "$1" "$work/out" || wrong "not found: $1"
}

"$tiecoat" rules --verify examples tests/reference >"$work/proof" 2>&1 || { wrong "the rulebook does not prove itself"; grep -A3 'error:' "$work/proof"; }

finds 'new-rule: this `holds` breaks the rule [shown-by]' <<'END'
rules:
  new-rule:
    about: more than one pass
    asks: coat
    when: coat.coats > 1
    verdict: note
    says: "{coat.coats} passes"
    from: practice
    shown_by:
      breaks: [{on: steel, stack: [{coat: epoxy-primer-2k, coats: 2, pass: light}]}]
      holds: [{on: steel, stack: [{coat: epoxy-primer-2k, coats: 3, pass: light}]}]
END
finds 'new-rule: this `breaks` does not break the rule [shown-by]' <<'END'
rules:
  new-rule:
    about: more than one pass
    asks: coat
    when: coat.coats > 1
    verdict: note
    says: "{coat.coats} passes"
    from: practice
    shown_by:
      breaks: [{on: steel, stack: [{coat: epoxy-primer-2k, coats: 1, pass: light}]}]
      holds: [{on: steel, stack: [{coat: epoxy-primer-2k, coats: 1, pass: light}]}]
END
# one wants a single pass, the other wants two: the remedy of each is the fault of the other
two_rules='
  wants-one:
    about: more than one pass
    asks: coat
    when: coat.coats > 1
    verdict: error
    says: "{coat.coats} passes"
    remedies: [{change: {coats: 1}}]
    from: practice
    shown_by:
      breaks: [{on: steel, stack: [{coat: epoxy-primer-2k, coats: 2, pass: light}]}]
      holds: [{on: steel, stack: [{coat: epoxy-primer-2k, coats: 1, pass: light}]}]
  wants-two:
    about: fewer than two passes
    asks: coat
    when: coat.coats < 2
    verdict: error
    says: "{coat.coats} pass"
    remedies: [{change: {coats: 2}}]
    from: practice
    shown_by:
      breaks: [{on: steel, stack: [{coat: epoxy-primer-2k, coats: 1, pass: light}]}]
      holds: [{on: steel, stack: [{coat: epoxy-primer-2k, coats: 2, pass: light}]}]'
echo "rules:$two_rules" | finds 'wants-one: its remedy `write `coats: 1` at this step` makes wants-two find an error: 1 pass [remedy]'
echo "rules:$two_rules" | finds 'wants-two: its remedy `write `coats: 2` at this step` makes wants-one find an error: 2 passes [remedy]'
echo "summary: $(tail -n 2 "$work/proof" | tr -s ' \n' '  ')"
[ $failed = 0 ]
