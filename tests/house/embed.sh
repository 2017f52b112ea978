#!/bin/sh
# The library as others use it: installed into a folder, found by pkg-config, built into the example program, shared and static, by
# C and by C++; what that program says of the examples is what tiecoat says. Then all that was installed is taken away again.
set -u
build=${BUILD:-build}
cc=${CC:-cc}
bad=0
new=$(mktemp -d) || exit 2
trap 'rm -rf "$new"' EXIT
if nm -D "$build/libtiecoat.so" | grep -q -E '__(asan|tsan)_'; then
	echo "summary: not under a sanitizer, which others' programs would need too"
	exit 0
fi
wrong() {
	echo "$*"
	bad=1
}
# what a packager would say, with a folder of libraries of its own
prefix=/opt/tiecoat
quiet_make() {
	env -u MAKEFLAGS -u MAKELEVEL make -s BUILD="$build" CC="$cc" DESTDIR="$new/root" PREFIX=$prefix LIBDIR=$prefix/lib/here "$@" \
		>"$new/make.log" 2>&1 || { cat "$new/make.log"; wrong "make $* failed"; }
}
quiet_make install
root=$new/root$prefix
PKG_CONFIG_PATH=$root/lib/here/pkgconfig
PKG_CONFIG_SYSROOT_DIR=$new/root
export PKG_CONFIG_PATH PKG_CONFIG_SYSROOT_DIR
config() {
	pkg-config "$@" tiecoat
}
version=$(sed -n 's/^VERSION *:= *//p' Makefile)
[ "$(config --modversion)" = "$version" ] || wrong "tiecoat.pc is of another version than $version"
grep -rn "$new" "$root/lib/here/pkgconfig" && wrong "tiecoat.pc names the folder of DESTDIR"

# --- the header alone ---
[ "$(ls "$root/include")" = tiecoat.h ] || wrong "other headers than tiecoat.h were installed"
strict="-Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror -fsyntax-only"
echo '#include <tiecoat.h>
#include <tiecoat.h>
int main(void) { tiecoat_bite_ask question = TIECOAT_BITE_ASK; return question.size == 0; }' >"$new/use.c"
compiled=0
try() {
	command -v "$1" >/dev/null || return 0
	"$@" $strict $(config --cflags) "$new/use.c" || wrong "the header does not compile: $*"
	compiled=$((compiled + 1))
}
for each in gcc clang; do
	try $each -std=c17 -Wstrict-prototypes
done
for each in g++ clang++; do
	try $each -x c++ -std=c++11
	try $each -x c++ -std=c++20
done

# --- the example, shared and static ---
make_example() { # NAME TARGET
	mkdir "$new/$1"
	cp examples/embed/check.c examples/embed/Makefile "$new/$1"
	(cd "$new/$1" && env -u MAKEFLAGS -u MAKELEVEL make -s CC="$cc" CFLAGS='-O1 -Wall -Wextra -Wpedantic -Werror' "$2") ||
		wrong "the example does not build: $1"
}
make_example shared check
make_example static check-static
# and with nothing shared at all, where this machine has the other libraries so
if $cc -static -o "$new/all" examples/embed/check.c $(config --static --cflags --libs) 2>"$new/all.log"; then
	all=$new/all
else
	all=
	echo "no program without shared libraries here: $(tail -n 1 "$new/all.log")"
fi
LD_LIBRARY_PATH=$root/lib/here
export LD_LIBRARY_PATH
ldd "$new/shared/check" | grep -q "libtiecoat.so.0 => $root" || wrong "the shared example does not load the library"
ldd "$new/static/check-static" | grep -q libtiecoat && wrong "the static example loads the shared library"

compared=0
for plan in examples/*.yaml examples/faults/*.yaml tests/faults/no-such-file.yaml; do
	"$root/bin/tiecoat" check --no-settings --format=json "$plan" >"$new/expected" 2>/dev/null
	status=$?
	for program in "$new/shared/check" "$new/static/check-static" $all; do
		"$program" --json "$plan" >"$new/got" 2>/dev/null
		got=$?
		[ $got = $status ] || wrong "$program $plan: exit $got, not $status"
		[ ! -f "$plan" ] || cmp -s "$new/got" "$new/expected" || wrong "$program $plan: another document than tiecoat's"
		compared=$((compared + 1))
	done
done
# in words: the finding at its line, and the cautions
"$new/shared/check" examples/lifeboat-day-old-enamel.yaml >"$new/said"
line=$(grep -n 'coat: lamp black' examples/lifeboat-day-old-enamel.yaml | head -n 1 | cut -d: -f1)
grep -q "^examples/lifeboat-day-old-enamel.yaml:$line: error: .*\[lifts-half-cured-enamel\]" "$new/said" ||
	wrong "the example does not tell of the fault in line $line"
[ "$(grep -c '^caution: ' "$new/said")" -gt 5 ] || wrong "the example tells no cautions"

# --- the program of docs/embedding.md: it asks for nothing that is not said there, and finds what it shows ---
awk '/^```c$/ {on = 1; next} /^```$/ {on = 0} on' docs/embedding.md >"$new/short.c"
if $cc -std=c17 -Wall -Wextra -Werror -o "$new/short" "$new/short.c" $(config --cflags --libs); then
	"$new/short" >"$new/short.out"
	[ $? = 1 ] || wrong "the program of docs/embedding.md finds nothing"
	grep -q '^line 4: ' "$new/short.out" && grep -q '^caution: ' "$new/short.out" || { cat "$new/short.out"; wrong "it says something else"; }
else
	wrong "the program of docs/embedding.md does not build"
fi

# --- the same by way of the program's JSON ---
if command -v python3 >/dev/null; then
	TIECOAT=$root/bin/tiecoat python3 examples/embed/check.py examples/lifeboat-day-old-enamel.yaml >"$new/python"
	[ $? = 1 ] || wrong "check.py has another exit status"
	grep -E '^(examples|caution)' "$new/said" >"$new/a"
	grep -E '^(examples|caution)' "$new/python" >"$new/b"
	diff -u "$new/a" "$new/b" || wrong "check.py and check.c do not say the same"
fi

# --- taken away again ---
quiet_make uninstall
left=$(find "$new/root" ! -type d)
[ -z "$left" ] || wrong "make uninstall leaves: $left"
left=$(find "$new/root" -type d -name '*tiecoat*' ! -path "$root")
[ -z "$left" ] || wrong "make uninstall leaves folders: $left"
echo "summary: header compiled $compiled times, $compared documents compared"
exit $bad
