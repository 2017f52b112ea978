/* Finding materials by name.
 *
 * Ids, names and listed names are one lookup. Only on a miss are the patterns of all entries compiled, into one
 * alternation: each branch ends in a callout that notes its number and refuses, so that the match goes on to the next
 * and every pattern that fits is heard. Where PCRE2 finds the alternation too large it is halved. */
#include <string.h>

#include "library/pattern.h"
#include "library/private.h"

struct tc_finder {
	const tc_library *library;
	const tc_allocator *from;
	pcre2_general_context *memory;
	pcre2_match_context *limits;
	pcre2_match_data *data;
	pcre2_code **codes;
	uint32_t count, room;
	bool compiled;
	tc_buffer form;
};

/* --- life ------------------------------------------------------------------------------------------------------- */

tc_finder *tc_finder_new(const tc_library *library, const tc_allocator *from)
{
	if (!from)
		from = tc_allocator_system();
	tc_finder *finder = from->get(from->user, NULL, sizeof *finder);
	if (!finder)
		return NULL;
	*finder = (tc_finder){.library = library, .from = from};
	tc_buffer_start(&finder->form, from);
	return finder;
}

static void forget_codes(tc_finder *f)
{
	for (uint32_t i = 0; i < f->count; i++)
		pcre2_code_free(f->codes[i]);
	if (f->codes)
		f->from->get(f->from->user, f->codes, 0);
	f->codes = NULL;
	f->count = f->room = 0;
}

void tc_finder_free(tc_finder *finder)
{
	if (!finder)
		return;
	forget_codes(finder);
	pcre2_match_data_free(finder->data);
	pcre2_match_context_free(finder->limits);
	pcre2_general_context_free(finder->memory);
	tc_buffer_free(&finder->form);
	finder->from->get(finder->from->user, finder, 0);
}

/* --- compiling -------------------------------------------------------------------------------------------------- */

static bool keep_code(tc_finder *f, pcre2_code *code)
{
	if (f->count == f->room) {
		const uint32_t room = f->room ? 2 * f->room : 4;
		pcre2_code **codes = f->from->get(f->from->user, f->codes, room * sizeof *codes);
		if (!codes) {
			pcre2_code_free(code);
			return false;
		}
		f->codes = codes;
		f->room = room;
	}
	f->codes[f->count++] = code;
	return true;
}

static void write_branches(const tc_library *l, uint32_t first, uint32_t end, tc_buffer *out)
{
	for (uint32_t i = first; i < end; i++) {
		if (!l->entries[i].known_as)
			continue;
		if (out->length)
			tc_buffer_char(out, '|');
		tc_known_as_branch(out, l->entries[i].known_as, i);
	}
}

/* Compiles the patterns of the entries from `first` up to `end`; false: out of memory. */
static bool compile(tc_finder *f, pcre2_compile_context *context, uint32_t first, uint32_t end)
{
	int code = 0;
	PCRE2_SIZE offset;
	tc_buffer all;
	tc_buffer_start(&all, f->from);
	write_branches(f->library, first, end, &all);
	pcre2_code *compiled = NULL;
	const bool none = !all.failed && all.length == 0, failed = all.failed;
	if (!none && !failed)
		compiled = pcre2_compile((PCRE2_SPTR)all.at, all.length, TC_KNOWN_AS_OPTIONS, &code, &offset, context);
	tc_buffer_free(&all);
	if (none)
		return true;
	if (compiled)
		return keep_code(f, compiled);
	if (failed || code == PCRE2_ERROR_HEAP_FAILED || end - first < 2)
		return false;
	const uint32_t middle = first + (end - first) / 2;
	return compile(f, context, first, middle) && compile(f, context, middle, end);
}

static bool prepare(tc_finder *f)
{
	if (!f->memory)
		f->memory = tc_known_as_memory(f->from);
	if (!f->memory)
		return false;
	if (!f->limits)
		f->limits = pcre2_match_context_create(f->memory);
	if (!f->data)
		f->data = pcre2_match_data_create(1, f->memory);
	if (!f->limits || !f->data)
		return false;
	pcre2_set_match_limit(f->limits, TC_MATCH_LIMIT);
	pcre2_set_depth_limit(f->limits, TC_MATCH_DEPTH);
	pcre2_set_heap_limit(f->limits, TC_MATCH_HEAP_KIB);
	return true;
}

static bool compile_all(tc_finder *f)
{
	if (f->compiled)
		return true;
	pcre2_compile_context *context = prepare(f) ? pcre2_compile_context_create(f->memory) : NULL;
	f->compiled = context && compile(f, context, 0, f->library->count);
	pcre2_compile_context_free(context);
	if (!f->compiled)
		forget_codes(f);
	return f->compiled;
}

/* --- matching --------------------------------------------------------------------------------------------------- */

typedef struct hits {
	const tc_library *library;
	uint32_t sections;
	const tc_entry *first, *second;
} hits;

/* Notes the branch that came through, and refuses it. */
static int note_branch(pcre2_callout_block *block, void *user)
{
	hits *h = user;
	uint32_t number = 0;
	for (PCRE2_SIZE i = 0; i < block->callout_string_length; i++)
		number = number * 10 + (uint32_t)(block->callout_string[i] - '0');
	const tc_entry *entry = &h->library->entries[number];
	if (entry->sections & h->sections) {
		if (!h->first)
			h->first = entry;
		else if (!h->second && entry != h->first)
			h->second = entry;
	}
	return 1;
}

static tc_found found_after(int result)
{
	switch (result) {
	case PCRE2_ERROR_MATCHLIMIT:
	case PCRE2_ERROR_DEPTHLIMIT:
	case PCRE2_ERROR_HEAPLIMIT:
		return TC_FOUND_LIMIT;
	case PCRE2_ERROR_NOMEMORY:
		return TC_FOUND_NO_MEMORY;
	default: /* no match, or a name that is no UTF-8 and so fits nothing */
		return TC_FOUND_NOTHING;
	}
}

static tc_found match(tc_finder *f, tc_text name, hits *h)
{
	pcre2_set_callout(f->limits, note_branch, h);
	for (uint32_t i = 0; i < f->count; i++) {
		const int result = pcre2_match(f->codes[i], (PCRE2_SPTR)name.at, name.length, 0, 0, f->data, f->limits);
		const tc_found found = found_after(result);
		if (found != TC_FOUND_NOTHING)
			return found;
	}
	return h->second ? TC_FOUND_SEVERAL : h->first ? TC_FOUND : TC_FOUND_NOTHING;
}

/* --- looking up ------------------------------------------------------------------------------------------------- */

static tc_text nearest_name(const tc_library *l, tc_text name, uint32_t sections)
{
	tc_nearest nearest = TC_NEAREST(name);
	for (uint32_t i = 0; i < l->count; i++) {
		const tc_entry *entry = &l->entries[i];
		if (!(entry->sections & sections))
			continue;
		tc_nearest_offer(&nearest, tc_text_of(entry->id));
		tc_nearest_offer(&nearest, tc_text_of(entry->name));
		for (const char *const *also = entry->also; *also; also++)
			tc_nearest_offer(&nearest, tc_text_of(*also));
	}
	return nearest.found;
}

static tc_found find_by_pattern(tc_finder *f, tc_text name, uint32_t sections, tc_find *find)
{
	hits h = {.library = f->library, .sections = sections};
	if (!compile_all(f))
		return TC_FOUND_NO_MEMORY;
	const tc_found found = match(f, name, &h);
	if (found == TC_FOUND || found == TC_FOUND_SEVERAL) {
		find->entry = h.first;
		find->other = h.second;
	} else if (found == TC_FOUND_NOTHING) {
		find->nearest = nearest_name(f->library, name, sections);
	}
	return found;
}

static const tc_entry *entry_at(const tc_library *l, uint32_t index)
{
	return index == TC_NONE ? NULL : &l->entries[index];
}

/* The short way, which most names of most recipes go: a welcome material by its very id. */
static const tc_entry *welcome_id(const tc_library *l, tc_text name, uint32_t sections)
{
	const uint32_t index = tc_map_find(&l->ids, name);
	const tc_entry *entry = index == TC_MAP_NONE ? NULL : &l->entries[index];
	return entry && !entry->is_kind && entry->sections & sections ? entry : NULL;
}

tc_found tc_finder_find(tc_finder *finder, tc_text name, uint32_t sections, tc_find *find)
{
	const tc_library *l = finder->library;
	*find = (tc_find){0};
	name = tc_text_trim(name);
	find->entry = welcome_id(l, name, sections);
	if (find->entry)
		return TC_FOUND;
	finder->form.length = 0;
	tc_name_form(name, &finder->form);
	if (finder->form.failed) {
		tc_buffer_free(&finder->form);
		return TC_FOUND_NO_MEMORY;
	}
	const tc_text form = {finder->form.length ? finder->form.at : "", finder->form.length};
	const tc_bearers bearers = tc_name_bearers(l, form, sections);
	const uint32_t question = tc_map_find(&l->questions, form);
	if (bearers.material == TC_NONE && question != TC_MAP_NONE) {
		find->question = l->unclear[question].question;
		return TC_FOUND_UNCLEAR;
	}
	if (bearers.material != TC_NONE || bearers.kind != TC_NONE) {
		find->entry = entry_at(l, bearers.material != TC_NONE ? bearers.material : bearers.kind);
		find->other = entry_at(l, bearers.second);
		return find->other ? TC_FOUND_SEVERAL : TC_FOUND;
	}
	const tc_found found = find_by_pattern(finder, name, sections, find);
	if (found == TC_FOUND_NOTHING)
		find->other = entry_at(l, bearers.any);
	return found;
}
