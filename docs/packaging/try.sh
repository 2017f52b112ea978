#!/bin/sh
# Installs the packages of FOLDER in a clean root, runs their tests there, and takes them away again: try.sh FOLDER. Needs root and
# debootstrap, and takes this machine's own package sources.
set -eu
debs=$1
ls "$debs"/tiecoat_*.deb "$debs"/libtiecoat0_*.deb "$debs"/libtiecoat-dev_*.deb >/dev/null 2>&1 ||
	{ echo "no packages in $debs: make deb"; exit 2; }
. "$(dirname "$0")/../../tests/house/clean-root"
mkdir "$root/debs"
cp "$debs"/tiecoat_*.deb "$debs"/libtiecoat0_*.deb "$debs"/libtiecoat-dev_*.deb "$root/debs"
cp -r "$(dirname "$0")/debian/tests" "$root/debs/tests"
inside 'apt-get update -qq'

echo "the program alone"
inside 'apt-get install -y -qq --no-install-recommends /debs/tiecoat_*.deb' >/dev/null
inside 'tiecoat --version && dpkg-query -W -f "\${Depends}\n" tiecoat'
inside '! dpkg-query -W libtiecoat0 2>/dev/null | grep -q "[0-9]"' || { echo "the program brings the library"; exit 1; }

# what the tests name besides
more=$(sed -n 's/^Depends: //p' "$root/debs/tests/control" | tr ',' '\n' | sed 's/ //g' | grep -v tiecoat | sort -u | tr '\n' ' ')
echo "the library, and for the tests: $more"
inside "apt-get install -y -qq --no-install-recommends /debs/*.deb $more" >/dev/null
for test in program embed; do
	inside "sh /debs/tests/$test >/debs/$test.log 2>&1" || { tail -n 40 "$root/debs/$test.log"; exit 1; }
	tail -n 1 "$root/debs/$test.log"
done

echo "taken away"
inside 'apt-get purge -y -qq tiecoat libtiecoat0 libtiecoat-dev' >/dev/null
left=$(find "$root" -xdev -mindepth 1 \( -path "$root/debs" -o -path "$root/proc" -o -path "$root/tmp" \) -prune -o -name '*tiecoat*' -print)
# caches of others: apt's of what it looked at, man's of the page that was shown
left=$(echo "$left" | grep -vE "^$root/var/(cache/(apt|man)|lib/apt)/" || true)
[ -z "$left" ] || { echo "purging leaves behind:"; echo "$left"; exit 1; }
inside '! dpkg-query -W -f "\${Package} \${Status}\n" | grep tiecoat'
echo "the packages install, pass their tests, and leave nothing behind"
