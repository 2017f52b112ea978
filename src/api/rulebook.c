/* A rulebook for any number of threads: the built-in one, or one from bytes. */
#include <stdio.h>

#include "api/builtin.h"
#include "api/private.h"

/* --- life --------------------------------------------------------------------------------------------------------- */

static void destroy(tiecoat_rulebook *rulebook)
{
	const tc_allocator from = rulebook->from;
	tc_rulebook_free(rulebook->rulebook);
	tc_arena_free(rulebook->arena);
	from.get(from.user, rulebook, 0);
}

void tc_rulebook_hold(tiecoat_rulebook *rulebook)
{
	atomic_fetch_add_explicit(&rulebook->holders, 1, memory_order_relaxed);
}

void tc_rulebook_let_go(tiecoat_rulebook *rulebook)
{
	if (atomic_fetch_sub_explicit(&rulebook->holders, 1, memory_order_acq_rel) == 1)
		destroy(rulebook);
}

void tiecoat_rulebook_free(tiecoat_rulebook *rulebook)
{
	if (rulebook)
		tc_rulebook_let_go(rulebook);
}

static tiecoat_rulebook *create(const tiecoat_memory *memory)
{
	const tc_allocator from =
	    memory ? (tc_allocator){.get = memory->get, .user = memory->user} : *tc_allocator_system();
	tiecoat_rulebook *made = from.get(from.user, NULL, sizeof *made);
	if (!made)
		return NULL;
	*made = (tiecoat_rulebook){.from = from};
	atomic_init(&made->holders, 1);
	made->arena = tc_arena_new(&made->from, 0);
	if (made->arena)
		return made;
	destroy(made);
	return NULL;
}

/* --- loading ------------------------------------------------------------------------------------------------------ */

/* Names outlive the call in places of messages and of the rulebook's items. */
static tc_status add_files(
    tiecoat_rulebook *book, const tiecoat_file *files, size_t count, tc_rulebook_file *to, bool above)
{
	for (size_t i = 0; i < count; i++) {
		to[i] = (tc_rulebook_file){.name = tc_intake_text(book->arena, files[i].name),
		    .bytes = files[i].bytes ? files[i].bytes : "",
		    .length = files[i].length,
		    .layer = files[i].layer + above};
		if (!to[i].name)
			return TC_NO_MEMORY;
	}
	return TC_OK;
}

static tc_status load_files(
    tiecoat_rulebook *book, const tiecoat_file *files, size_t count, bool on_builtin, tc_diags *diags)
{
	size_t below = 0;
	tc_rulebook_file *all =
	    on_builtin ? tc_builtin_files(book->arena, count, &below) : TC_ARRAY(book->arena, count, tc_rulebook_file);
	if (!all || add_files(book, files, count, all + below, on_builtin) != TC_OK)
		return TC_NO_MEMORY;
	return tc_rulebook_load(&book->from, all, below + count, false, diags, &book->rulebook);
}

static tc_status load(tiecoat_rulebook *book, const tiecoat_file *files, size_t count, bool on_builtin)
{
	tc_diags *diags = tc_diags_new(book->arena);
	tc_status status = TC_BAD;
	if (!diags)
		return TC_NO_MEMORY;
	if (count == 0 && on_builtin)
		status = tc_rulebook_from_image(&book->from, tc_builtin_image, tc_builtin_image_size, &book->rulebook);
	if (status == TC_BAD)
		status = load_files(book, files, count, on_builtin, diags);
	if (status == TC_OK)
		snprintf(
		    book->stamp, sizeof book->stamp, "%016llx", (unsigned long long)tc_rulebook_stamp(book->rulebook));
	tc_show_messages(book->arena, diags, &book->messages);
	return tc_arena_failed(book->arena) ? TC_NO_MEMORY : status;
}

tiecoat_status tiecoat_rulebook_builtin(const tiecoat_memory *memory, tiecoat_rulebook **rulebook)
{
	return tiecoat_rulebook_load(memory, NULL, 0, true, rulebook);
}

static bool are_files(const tiecoat_file *files, size_t count)
{
	for (size_t i = 0; files && i < count; i++)
		if (!files[i].name || (!files[i].bytes && files[i].length) || files[i].layer == UINT32_MAX)
			return false;
	return files || count == 0;
}

tiecoat_status tiecoat_rulebook_load(
    const tiecoat_memory *memory, const tiecoat_file *files, size_t count, bool on_builtin, tiecoat_rulebook **rulebook)
{
	if (!rulebook)
		return TIECOAT_MISUSE;
	*rulebook = NULL;
	if ((memory && !memory->get) || !are_files(files, count))
		return TIECOAT_MISUSE;
	tiecoat_rulebook *made = create(memory);
	const tc_status status = made ? load(made, files, count, on_builtin) : TC_NO_MEMORY;
	if (status != TC_NO_MEMORY)
		*rulebook = made;
	else
		tiecoat_rulebook_free(made);
	return status == TC_OK ? TIECOAT_OK : status == TC_BAD ? TIECOAT_BAD : TIECOAT_NO_MEMORY;
}

/* --- looking ------------------------------------------------------------------------------------------------------ */

const char *tiecoat_rulebook_stamp(const tiecoat_rulebook *rulebook)
{
	return rulebook ? rulebook->stamp : "";
}

size_t tiecoat_rulebook_messages(const tiecoat_rulebook *rulebook)
{
	return rulebook ? rulebook->messages.count : 0;
}

const tiecoat_message *tiecoat_rulebook_message(const tiecoat_rulebook *rulebook, size_t index)
{
	return index < tiecoat_rulebook_messages(rulebook) ? rulebook->messages.at[index] : NULL;
}
