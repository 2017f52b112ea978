/* Makes the rulebook's image at build time: make_image FILE… > IMAGE. Messages of a bad rulebook go to standard error.
 * Needs nothing but the library, since the rest of the face is built around what it makes. */
#include <stdio.h>

#include "base/limits.h"
#include "rule/rulebook.h"

static bool read_file(tc_arena *arena, const char *name, tc_rulebook_file *file)
{
	FILE *stream = fopen(name, "rb");
	if (!stream)
		return false;
	char *bytes = tc_arena_get(arena, TC_FILE_MAX + 1);
	const size_t length = bytes ? fread(bytes, 1, TC_FILE_MAX + 1, stream) : 0;
	const bool good = bytes && !ferror(stream) && length > 0;
	fclose(stream);
	*file = (tc_rulebook_file){.name = name, .bytes = bytes, .length = length};
	return good;
}

static void print_diags(const tc_diags *diags)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		tc_diag_print(tc_diags_at(diags, i), &out);
	if (out.length && !out.failed)
		fputs(out.at, stderr);
	tc_buffer_free(&out);
}

static bool make(tc_arena *arena, tc_rulebook_file *files, size_t count)
{
	tc_diags *diags = tc_diags_new(arena);
	if (!diags)
		return false;
	tc_buffer image;
	tc_buffer_start(&image, NULL);
	const tc_status status = tc_rulebook_image(files, count, diags, &image);
	tc_diags_sort(diags);
	print_diags(diags);
	const bool written = status == TC_OK && !image.failed &&
	                     fwrite(image.at, 1, image.length, stdout) == image.length && fflush(stdout) == 0;
	if (!written)
		fputs("make_image: no image was made\n", stderr);
	tc_buffer_free(&image);
	return written;
}

int main(int argc, char **argv)
{
	tc_arena *arena = tc_arena_new(NULL, 0);
	const size_t count = argc > 1 ? (size_t)argc - 1 : 0;
	tc_rulebook_file *files = arena ? TC_ARRAY(arena, count, tc_rulebook_file) : NULL;
	bool good = files && count > 0;
	for (size_t i = 0; good && i < count; i++) {
		good = read_file(arena, argv[i + 1], &files[i]);
		if (!good)
			fprintf(stderr, "make_image: cannot read %s\n", argv[i + 1]);
	}
	good = good && make(arena, files, count);
	tc_arena_free(arena);
	return good ? 0 : 2;
}
