#!/bin/sh
# Writes an assembler file that carries the rulebook's image and its YAML files: embed.sh IMAGE FILE…
# Its names are hidden: they are no part of what the library offers.
# Layout of tc_builtin_files_table: (name, bytes, length) a file, each a machine word; see builtin.c.
set -eu
image=$1
shift
echo '	.section .rodata'
printf '	.globl tc_builtin_image\n	.hidden tc_builtin_image\n	.balign 4096\ntc_builtin_image:\n	.incbin "%s"\ntc_builtin_image_end:\n' "$image"
n=0
for f in "$@"; do
	printf 'name%d:	.asciz "%s"\nbytes%d:	.incbin "%s"\nend%d:	.byte 0\n' $n "$f" $n "$f" $n
	n=$((n + 1))
done
printf '	.globl tc_builtin_image_size\n	.hidden tc_builtin_image_size\n'
printf '	.balign 8\ntc_builtin_image_size:	.quad tc_builtin_image_end - tc_builtin_image\n'
printf '	.globl tc_builtin_files_count\n	.hidden tc_builtin_files_count\ntc_builtin_files_count:	.quad %d\n' $n
echo '	.section .data.rel.ro,"aw"'
printf '	.globl tc_builtin_files_table\n	.hidden tc_builtin_files_table\n	.balign 8\ntc_builtin_files_table:\n'
i=0
while [ $i -lt $n ]; do
	printf '	.quad name%d, bytes%d, end%d - bytes%d\n' $i $i $i $i
	i=$((i + 1))
done
echo '	.section .note.GNU-stack,"",@progbits'
