/* The built-in rulebook's files, from the table that embed.sh writes. */
#include "api/builtin.h"

typedef struct embedded {
	const char *name, *bytes;
	uint64_t length;
} embedded;

extern const uint64_t tc_builtin_files_count;
extern const embedded tc_builtin_files_table[];

tc_rulebook_file *tc_builtin_files(tc_arena *arena, size_t more, size_t *count)
{
	*count = (size_t)tc_builtin_files_count;
	tc_rulebook_file *files = TC_ARRAY(arena, *count + more, tc_rulebook_file);
	for (size_t i = 0; files && i < *count; i++) {
		const embedded *from = &tc_builtin_files_table[i];
		files[i] = (tc_rulebook_file){.name = from->name, .bytes = from->bytes, .length = (size_t)from->length};
	}
	return files;
}
