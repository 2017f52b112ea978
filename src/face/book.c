/* Loading the rulebook: the built-in image, or the built-in files with folders laid over them. */
#include "api/builtin.h"
#include "face/book.h"
#include "face/complain.h"
#include "face/files.h"
#include "face/home.h"

/* The files of the folders of --rules. */
static tc_status find_layers(tc_arena *arena, const tc_options *options, tc_diags *diags, tc_inputs *inputs)
{
	const uint32_t count = (uint32_t)options->rules_count;
	bool *wrong = TC_ARRAY(arena, count + 1, bool);
	if (!wrong)
		return TC_NO_MEMORY;
	const tc_status status = tc_files_find(arena, options->rules, count, diags, wrong, inputs);
	if (status != TC_OK)
		return status;
	for (uint32_t i = 0; i < count; i++) {
		bool any = wrong[i];
		for (uint32_t f = 0; f < inputs->count; f++)
			any = any || inputs->at[f].operand == i;
		if (!any)
			tc_diag_add(diags, TC_ERROR, "file", (tc_place){.file = options->rules[i]},
			    "no file of a rulebook (.yaml, .yml) in this folder");
	}
	return TC_OK;
}

static tc_status gather(tc_book *book, const tc_options *options)
{
	tc_inputs inputs = {0};
	tc_status status = find_layers(book->arena, options, book->diags, &inputs);
	if (status != TC_OK)
		return status;
	book->files = tc_builtin_files(book->arena, inputs.count, &book->count);
	if (!book->files)
		return TC_NO_MEMORY;
	for (uint32_t i = 0; i < inputs.count; i++) {
		tc_rulebook_file *file = &book->files[book->count];
		status = tc_file_read(book->arena, inputs.at[i].path, book->diags, &file->bytes, &file->length);
		if (status == TC_NO_MEMORY)
			return status;
		file->name = inputs.at[i].path;
		file->layer = inputs.at[i].operand + 1;
		book->count += status == TC_OK;
	}
	return tc_diags_errors(book->diags) ? TC_BAD : TC_OK;
}

static tc_status load_image(tc_book *book)
{
	const void *home = tc_image_at_home(tc_rulebook_image_home(tc_builtin_image, tc_builtin_image_size));
	return tc_rulebook_from_image(NULL, home ? home : tc_builtin_image, tc_builtin_image_size, &book->rulebook);
}

static tc_status load(tc_book *book, const tc_options *options, bool files)
{
	if (options->rules_count == 0 && !files && load_image(book) == TC_OK)
		return TC_OK;
	const tc_status status = gather(book, options);
	if (status != TC_OK)
		return status;
	return tc_rulebook_load(NULL, book->files, book->count, files, book->diags, &book->rulebook);
}

bool tc_book_open(const tc_options *options, bool files, tc_book *book)
{
	*book = (tc_book){.arena = tc_arena_new(NULL, 0)};
	book->diags = book->arena ? tc_diags_new(book->arena) : NULL;
	const tc_status status = book->diags ? load(book, options, files) : TC_NO_MEMORY;
	if (book->diags) {
		tc_diags_sort(book->diags);
		tc_complain_diags(book->diags);
	}
	if (status == TC_OK)
		return true;
	if (status == TC_NO_MEMORY)
		tc_complain_memory();
	else
		tc_complain("the rulebook has errors, so nothing was done");
	tc_book_close(book);
	return false;
}

void tc_book_close(tc_book *book)
{
	tc_rulebook_free(book->rulebook);
	tc_arena_free(book->arena);
	*book = (tc_book){0};
}
