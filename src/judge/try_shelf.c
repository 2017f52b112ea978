/* The shelf of a trial: a file of labels, or the shelf of a recipe. Of a recipe all but its shelf is blanked, so
 * that what is left is a file of a shelf in which every label still stands in its line and column. */
#include "judge/try_private.h"

#include <string.h>

typedef struct shelf_file {
	const char *path, *bytes;
	size_t length;
} shelf_file;

/* Reads a file named beside another. */
static tc_status read_file(tc_trying *t, const char *beside, const char *path, shelf_file *file)
{
	const char *reason = "files are not read here";
	const char *slash = strrchr(beside, '/');
	const char *bytes =
	    t->files ? t->files->read(t->files->user, t->arena, beside, path, &file->length, &reason) : NULL;

	if (!bytes) {
		if (tc_arena_failed(t->arena))
			return TC_NO_MEMORY;
		tc_try_refuse(
		    t, "shelf-file", "--shelf", "`%s` cannot be read: %s", path, reason ? reason : "no reason given");
		return TC_BAD;
	}
	file->bytes = bytes;
	file->path =
	    slash && *path != '/' ? tc_arena_print(t->arena, "%.*s/%s", (int)(slash - beside), beside, path) : path;
	return file->path ? TC_OK : TC_NO_MEMORY;
}

/* The first document that is a recipe, and its shelf. */
static const tc_node *shelf_of(const tc_document *documents, size_t count, const tc_node **key, bool *recipe)
{
	*recipe = false;
	for (size_t i = 0; i < count; i++) {
		if (!tc_is_recipe(&documents[i]))
			continue;
		*recipe = true;
		const tc_node *shelf = tc_map_get(documents[i].root, "shelf", key);
		if (shelf)
			return shelf;
	}
	return NULL;
}

/* The text with blanks for all but the bytes from `from` to `to`. */
static const char *only(tc_arena *arena, tc_text text, size_t from, size_t to)
{
	char *copy = tc_arena_text(arena, text.at, text.length);

	for (size_t i = 0; copy && i < text.length; i++)
		if ((i < from || i >= to) && copy[i] != '\n' && copy[i] != '\r')
			copy[i] = ' ';
	return copy;
}

/* What a file holds: a shelf is left as it is; of a recipe its shelf is cut out, or the file named that holds it. */
static tc_status look_into(tc_trying *t, shelf_file *file, const char **elsewhere)
{
	tc_source *source = NULL;
	const tc_document *documents = NULL;
	const tc_node *key = NULL;
	size_t count = 0;
	bool recipe;
	tc_diags *unsaid = tc_diags_new(t->arena); /* whoever reads the shelf itself says them */
	tc_status status =
	    unsaid ? tc_source_new(t->arena, file->path, file->bytes, file->length, unsaid, &source) : TC_NO_MEMORY;

	*elsewhere = NULL;
	if (status == TC_OK)
		status = tc_yaml_read(t->arena, source, unsaid, &documents, &count);
	if (status != TC_OK)
		return status == TC_BAD ? TC_OK : status;
	const tc_node *shelf = shelf_of(documents, count, &key, &recipe);
	if (!recipe)
		return TC_OK;
	if (!shelf) {
		tc_try_refuse(t, "shelf-file", "--shelf", "`%s` holds a recipe without a shelf", file->path);
		return TC_BAD;
	}
	if (shelf->kind == TC_SCALAR) {
		*elsewhere = shelf->text;
		return TC_OK;
	}
	const tc_text text = tc_source_text(source);
	file->bytes = only(t->arena, text, key->offset, shelf->end);
	file->length = text.length;
	return file->bytes ? TC_OK : TC_NO_MEMORY;
}

tc_status tc_try_shelf(tc_trying *t)
{
	shelf_file file = {0};
	const char *elsewhere = NULL;
	tc_status status = read_file(t, "", t->ask->shelf, &file);

	if (status == TC_OK)
		status = look_into(t, &file, &elsewhere);
	if (status == TC_OK && elsewhere)
		status = read_file(t, file.path, elsewhere, &file);
	t->shelf_path = file.path;
	t->shelf_bytes = file.bytes;
	t->shelf_length = file.length;
	return status;
}
