/* The rulebook that is built into the program: as an image, and as the YAML that it was made from. The data stand in an
 * assembler file that the build makes (embed.sh). */
#ifndef TC_FACE_BUILTIN_H
#define TC_FACE_BUILTIN_H

#include "library/collect.h"

extern const unsigned char tc_builtin_image[];
extern const size_t tc_builtin_image_size;

/* The image mapped once more at the given address (tc_rulebook_image_home), where it can be used without a copy. NULL when the
 * system has no room there or does not tell the program's own file; the mapping stays until the program ends. */
const void *tc_builtin_at_home(const void *home);

/* The YAML files, all of layer 0, in an array in the arena with room for `more` files behind them. NULL: out of memory. */
tc_rulebook_file *tc_builtin_files(tc_arena *arena, size_t more, size_t *count);

#endif
