/* The rulebook that is built in: as an image, and as the YAML that it was made from. The data stand in an assembler
 * file that the build makes (embed.sh). */
#ifndef TC_API_BUILTIN_H
#define TC_API_BUILTIN_H

#include "library/collect.h"

extern const unsigned char tc_builtin_image[];
extern const size_t tc_builtin_image_size;

/* The YAML files, all of layer 0, in an array in the arena with room for `more` files behind them. NULL: out of
 * memory. */
tc_rulebook_file *tc_builtin_files(tc_arena *arena, size_t more, size_t *count);

#endif
