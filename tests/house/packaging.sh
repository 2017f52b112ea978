#!/bin/sh
# What the Debian packages repeat of the tree agrees with it: version, soname, build dependencies, symbols, licence.
set -u
debian=docs/packaging/debian
bad=0
new=$(mktemp -d) || exit 2
trap 'rm -rf "$new"' EXIT
wrong() {
	echo "$*"
	bad=1
}
value() {
	sed -n "s/^$1 *:= *//p" Makefile
}
version=$(value VERSION)
abi=$(value ABI)
head -n 1 $debian/changelog | grep -q "^tiecoat ($version-[0-9][0-9]*) " || wrong "$debian/changelog begins with another version than $version"
grep -q "^Package: libtiecoat$abi\$" $debian/control || wrong "no package libtiecoat$abi in $debian/control"
head -n 1 "$debian/libtiecoat$abi.symbols" | grep -q "^libtiecoat.so.$abi libtiecoat$abi " || wrong "the symbols file is of another library"

# every package that the build needs, but those that are always there
for p in $(value PACKAGES); do
	case $p in gcc | make | libc6-dev) continue ;; esac
	grep -qE "^ $p( <!nocheck>)?,\$" $debian/control || wrong "$p is needed to build and no build dependency in $debian/control"
done
# every library that pkg-config asks for comes with the dev package
sed -n '/^Package: libtiecoat-dev/,/^Description/p' $debian/control >"$new/dev"
for l in $(sed -n 's/^Requires.private: //p' src/api/tiecoat.pc.in); do
	case $l in yaml-0.1) p=libyaml-dev ;; libpcre2-8) p=libpcre2-dev ;; *) p=lib$l-dev ;; esac
	grep -q "^ $p,\$" "$new/dev" || wrong "tiecoat.pc needs $l, and libtiecoat-dev does not depend on $p"
done

sed -n '/^TIECOAT_API/s/^[^(]*[ *]\([a-z_]*\)(.*/\1/p' src/api/tiecoat.h | LC_ALL=C sort >"$new/header"
sed -n "s/^ \(tiecoat_[a-z_]*\)@TIECOAT_0 .*/\1/p" "$debian/libtiecoat$abi.symbols" | LC_ALL=C sort >"$new/symbols"
diff -u "$new/header" "$new/symbols" || wrong "the symbols file and the header list other functions"

# the licence, word for word but for its layout
sed -n '/^Permission/,$p' LICENSE | tr -s ' \n' '\n' >"$new/licence"
sed -n '/^ Permission/,$p' $debian/copyright | grep -vx ' \.' | tr -s ' \n' '\n' | sed '/^$/d' >"$new/copyright"
diff -u "$new/licence" "$new/copyright" >/dev/null || wrong "$debian/copyright has other words than LICENSE"
for f in rules tests/program tests/embed; do
	[ -x "$debian/$f" ] || wrong "$debian/$f is not executable"
done
echo "summary: version $version, $(wc -l <"$new/symbols") symbols"
exit $bad
