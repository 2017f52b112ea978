#!/bin/sh
# The library's names are those of its header, no more and no fewer, in the shared and in the static one, all of the version that
# the linker script gives them; and the header's version is that of the program.
set -u
build=${BUILD:-build}
bad=0
new=$(mktemp -d) || exit 2
trap 'rm -rf "$new"' EXIT
# TIECOAT_API stands before each function, and the name before the first parenthesis
sed -n '/^TIECOAT_API/s/^[^(]*[ *]\([a-z_]*\)(.*/\1/p' src/api/tiecoat.h | sort >"$new/header"
[ -s "$new/header" ] || { echo "no functions found in src/api/tiecoat.h"; exit 1; }
nm -D --defined-only "$build/libtiecoat.so" | awk '$2 != "A" {print $3}' | sort >"$new/versioned"
sed 's/@.*//' "$new/versioned" >"$new/shared"
nm -g --defined-only "$build/libtiecoat.a" | awk 'NF == 3 {print $3}' | sort >"$new/static"
for kind in shared static; do
	# a sanitizer's own names are left out
	grep -vE '^(__(asan|tsan|ubsan|odr_asan|start|stop)_|_edata$|_end$|__bss_start$)' "$new/$kind" >"$new/ours"
	diff -u "$new/header" "$new/ours" || { echo "the $kind library has other names than the header"; bad=1; }
done
grep -v '@@TIECOAT_0$' "$new/versioned" | grep '^tiecoat_' && { echo "not of version TIECOAT_0"; bad=1; }
# It opens no file, prints nothing, ends no program, asks neither clock nor environment nor locale (tiecoat.h).
if ! nm -D "$build/libtiecoat.so" | grep -q -E '__(asan|tsan)_'; then
	files='open|openat|fopen|freopen|read|write|mmap|stat|v?f?printf|f?puts|putchar|f?putc|fwrite|perror|stdout|stderr'
	ends='(_|quick_|_E)?exit|abort|__assert_fail|system|fork'
	asks='(secure_)?getenv|setenv|setlocale|nl_langinfo|time|clock_gettime|gettimeofday|localtime|s?rand(om)?'
	nm -D --undefined-only "$build/libtiecoat.so" | awk '{print $NF}' | sed 's/@.*//' |
		grep -xE "(__)?($files|$ends|$asks)(64)?(_chk)?" && { echo "is what the library does without"; bad=1; }
fi
abi=$(sed -n 's/^ABI *:= *//p' Makefile)
readelf -d "$build/libtiecoat.so" | grep -q "soname: \[libtiecoat.so.$abi\]" || { echo "its soname is not libtiecoat.so.$abi"; bad=1; }
header=$(sed -n 's/^#define TIECOAT_VERSION_\(MAJOR\|MINOR\|PATCH\) \([0-9]*\)$/\2/p' src/api/tiecoat.h | paste -sd.)
version=$(sed -n 's/^VERSION *:= *//p' Makefile)
[ "$header" = "$version" ] || { echo "src/api/tiecoat.h is of version $header, the Makefile of $version"; bad=1; }
echo "summary: $(wc -l <"$new/header") functions"
exit $bad
