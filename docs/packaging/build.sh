#!/bin/sh
# Builds the Debian packages: build.sh FOLDER. They are built from the last commit (without git: from the files that are here), in
# a folder of their own below FOLDER, and put into FOLDER beside what lintian says of them.
set -eu
out=$1
cd "$(dirname "$0")/../.."
for tool in dpkg-buildpackage dh fakeroot; do
	command -v $tool >/dev/null || { echo "make deb needs $tool: make deps-deb installs what is missing"; exit 2; }
done
missing=$(dpkg-checkbuilddeps docs/packaging/debian/control 2>&1) || { echo "$missing"; echo "make deps-deb installs what is missing"; exit 2; }
mkdir -p "$out"
out=$(cd "$out" && pwd)
version=$(sed -n 's/^VERSION *:= *//p' Makefile)
work=$(mktemp -d "$out/work.XXXXXX")
trap 'rm -rf "$work"' EXIT INT TERM
tree=$work/tiecoat-$version
mkdir "$tree"
if git rev-parse --git-dir >/dev/null 2>&1; then
	git archive HEAD | tar -x -C "$tree"
else
	find . -mindepth 1 -maxdepth 1 ! -name 'build*' ! -name '.git' -exec cp -a {} "$tree" \;
fi
cp -r "$tree/docs/packaging/debian" "$tree/debian"
# flags and make's own messages to the packages' build alone
(cd "$tree" && env -u MAKEFLAGS -u MAKELEVEL -u MFLAGS -u CFLAGS -u LDFLAGS dpkg-buildpackage -us -uc -b -j"${JOBS:-2}") >"$out/build.log" 2>&1 ||
	{ tail -n 40 "$out/build.log"; echo "the packages were not built; all of it: $out/build.log"; exit 1; }
rm -f "$out"/*.deb "$out"/*.changes "$out"/*.buildinfo
mv "$work"/*.deb "$work"/*.changes "$work"/*.buildinfo "$out"
(cd "$out" && sha256sum ./*.deb)
command -v lintian >/dev/null || { echo "lintian is not here: make deps-deb"; exit 0; }
lintian --fail-on error --info --display-info --pedantic "$out"/*.changes >"$out/lintian.log" 2>&1 && status=0 || status=$?
grep -E '^[EWIPXO]:' "$out/lintian.log" || echo "lintian has nothing to say"
exit $status
