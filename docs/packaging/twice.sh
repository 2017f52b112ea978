#!/bin/sh
# Builds the packages twice, in folders of unlike names, with another time zone, language and mask of permissions, and compares
# them: twice.sh FOLDER
set -eu
out=$1
here=$(dirname "$0")
sh "$here/build.sh" "$out/once" >/dev/null
(umask 027 && TZ=Pacific/Kiritimati LC_ALL=C JOBS=1 sh "$here/build.sh" "$out/another-time-in-another-place" >/dev/null)
same=0
other=0
for deb in "$out"/once/*.deb; do
	name=$(basename "$deb")
	if cmp -s "$deb" "$out/another-time-in-another-place/$name"; then
		same=$((same + 1))
	else
		echo "not the same twice: $name"
		other=$((other + 1))
	fi
done
echo "summary: of $((same + other)) packages $same were the same byte for byte"
[ $other = 0 ] && [ $same -gt 0 ]
