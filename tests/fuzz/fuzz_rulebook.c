/* Any bytes as a rulebook laid over a small one: must load or say why, never crash, hang or leak. */
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include "rule/rulebook.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	tc_rulebook_file file = {.name = "fuzz.yaml", .bytes = (const char *)data, .length = size};
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	tc_rulebook *rulebook = NULL;

	if (diags && tc_rulebook_load(NULL, &file, 1, true, diags, &rulebook) == TC_OK)
		tc_rulebook_free(rulebook);
	tc_arena_free(arena);
	return 0;
}
