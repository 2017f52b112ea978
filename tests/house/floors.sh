#!/bin/sh
# Every #include must point down the floors, and every header must compile alone with each compiler at hand.
set -u
bad=0
rank() {
	case $1 in base) echo 0 ;; read) echo 1 ;; science) echo 1 ;; library) echo 2 ;; rule) echo 3 ;; stack) echo 4 ;;
	judge) echo 5 ;; plan) echo 6 ;; report) echo 7 ;; api) echo 8 ;; face) echo 9 ;; *) echo 99 ;; esac
}
count=0
for f in src/*/*.[ch] src/*/*.def; do
	[ -f "$f" ] || continue
	floor=$(echo "$f" | cut -d/ -f2)
	for inc in $(sed -n 's@^[ \t]*#include "\([a-z]*\)/.*@\1@p' "$f" | sort -u); do
		count=$((count + 1))
		[ "$inc" = "$floor" ] && continue
		if [ "$(rank "$inc")" -ge "$(rank "$floor")" ]; then
			echo "$f includes $inc/: that is not below $floor/"
			bad=1
		fi
		if [ "$floor" = science ]; then
			echo "$f: science/ knows only numbers, but includes $inc/"
			bad=1
		fi
	done
done
for cc in gcc clang; do
	command -v $cc >/dev/null 2>&1 || continue
	for h in src/*/*.h; do
		if ! $cc -std=c17 -D_GNU_SOURCE -Isrc -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wno-missing-field-initializers -Wno-sign-conversion \
			-Wno-unused-function -Werror -fsyntax-only -x c "$h"; then
			echo "$h does not compile alone with $cc"
			bad=1
		fi
	done
done
echo "summary: $count arrows between floors"
exit $bad
