/* Places, parts, origins and the bibliography in words. */
#include <string.h>

#include "report/words.h"

const char *tc_words_text(const tc_buffer *buffer)
{
	return buffer->length > 0 && !buffer->failed ? buffer->at : "";
}

void tc_words_count(uint32_t count, const char *one, const char *many, tc_buffer *out)
{
	tc_buffer_print(out, "%u %s", (unsigned)count, count == 1 ? one : many);
}

void tc_words_numbers(const uint32_t *numbers, uint32_t count, tc_buffer *out)
{
	for (uint32_t i = 0; i < count;) {
		uint32_t last = i;
		while (last + 1 < count && numbers[last + 1] == numbers[last] + 1)
			last++;
		tc_buffer_print(out, "%s%u", i ? ", " : "", (unsigned)numbers[i]);
		if (last > i)
			tc_buffer_print(out, "%s%u", last > i + 1 ? "–" : ", ", (unsigned)numbers[last]);
		i = last + 1;
	}
}

/* --- where a figure comes from ----------------------------------------------------------------------------------- */

static bool recalled(const tc_basis *basis, const tc_source_entry *source)
{
	return basis->memory || !source->read;
}

void tc_words_basis(const tc_library *library, const tc_basis *basis, tc_buffer *out)
{
	if (!basis)
		return;
	if (basis->source == TC_NONE) {
		tc_buffer_puts(out, "common practice");
		return;
	}
	const tc_source_entry *source = tc_library_source(library, basis->source);
	if (source->author)
		tc_buffer_print(out, "%s: ", source->author);
	tc_buffer_puts(out, source->title);
	if (source->year)
		tc_buffer_print(out, ", %s", source->year);
	if (basis->at)
		tc_buffer_print(out, ", %s", basis->at);
	if (recalled(basis, source))
		tc_buffer_puts(out, " (from memory, not looked up)");
}

void tc_words_basis_short(const tc_library *library, const tc_basis *basis, tc_buffer *out)
{
	if (!basis)
		return;
	if (basis->source == TC_NONE) {
		tc_buffer_puts(out, "common practice");
		return;
	}
	const tc_source_entry *source = tc_library_source(library, basis->source);
	tc_buffer_puts(out, source->id);
	if (basis->at)
		tc_buffer_print(out, " %s", basis->at);
	if (recalled(basis, source))
		tc_buffer_puts(out, ", from memory");
}

void tc_words_place(tc_place place, const char *own, tc_buffer *out)
{
	if (!place.file)
		return;
	if (!own || strcmp(place.file, own) != 0)
		tc_buffer_print(out, "%s ", place.file);
	if (place.line)
		tc_buffer_print(out, "line %u", (unsigned)place.line);
}

static void add_library_origin(const tc_library *library, const tc_origin *origin, tc_buffer *out)
{
	tc_buffer_puts(out, "library");
	if (origin->entry)
		tc_buffer_print(out, ": %s", origin->entry);
	if (origin->basis) {
		tc_buffer_puts(out, origin->entry ? ", " : ": ");
		tc_words_basis_short(library, origin->basis, out);
	}
}

static void add_assumed_origin(const tc_library *library, const tc_origin *origin, tc_buffer *out)
{
	if (origin->of)
		tc_buffer_print(out, "computed from %s, in part ", origin->of);
	tc_buffer_puts(out, "assumed");
	if (origin->entry)
		tc_buffer_print(out, ": usual for %s", origin->entry);
	if (origin->basis) {
		tc_buffer_puts(out, origin->entry ? ", " : ": ");
		tc_words_basis_short(library, origin->basis, out);
	}
}

void tc_words_origin(const tc_library *library, const tc_origin *origin, const char *own, tc_buffer *out)
{
	switch (origin->kind) {
	case TC_FROM_SAID:
		tc_buffer_puts(out, origin->place.file ? "said in " : "said");
		tc_words_place(origin->place, own, out);
		break;
	case TC_FROM_ASSUMED:
		add_assumed_origin(library, origin, out);
		break;
	case TC_FROM_LIBRARY:
		add_library_origin(library, origin, out);
		break;
	case TC_FROM_COMPUTED:
		tc_buffer_puts(out, "computed");
		if (origin->of)
			tc_buffer_print(out, " from %s", origin->of);
		break;
	}
}

/* --- parts ------------------------------------------------------------------------------------------------------- */

void tc_words_parts(const tc_model *model, uint64_t parts, tc_buffer *out)
{
	bool first = true;
	for (uint32_t i = 0; i < model->parts; i++) {
		if (!(parts >> i & 1))
			continue;
		tc_buffer_print(out, "%s%s", first ? "" : ", ", model->part[i].written->name);
		first = false;
	}
	if (first)
		tc_buffer_puts(out, "whole recipe");
}

/* --- the last line ----------------------------------------------------------------------------------------------- */

typedef struct enumeration {
	tc_buffer *out;
	const char *between;
} enumeration;

static void add_item(enumeration *list, uint32_t count, const char *one, const char *many)
{
	if (count == 0)
		return;
	tc_buffer_puts(list->out, list->between);
	tc_words_count(count, one, many, list->out);
	list->between = ", ";
}

/* What was looked for and not found, where something below the threshold was. */
static const char *clear_of(const tc_summary *s, tc_verdict at_least)
{
	if (at_least == TC_V_ERROR && s->errors == 0)
		return "no error found; ";
	if (at_least == TC_V_WARNING && s->errors + s->warnings == 0)
		return "no error or warning found; ";
	return "";
}

void tc_words_summary(const tc_summary *s, tc_verdict at_least, uint32_t unread, bool complete, tc_buffer *out)
{
	if (s->errors + s->warnings + s->notes > 0) {
		enumeration found = {out, clear_of(s, at_least)};
		add_item(&found, s->errors, "error", "errors");
		add_item(&found, s->warnings, "warning", "warnings");
		add_item(&found, s->notes, "note", "notes");
	} else if (s->known > 0) {
		tc_buffer_puts(out, "nothing new found");
	} else if (s->undecided > 0 || unread > 0 || !complete) {
		tc_buffer_puts(out, "nothing found wrong");
	} else {
		tc_buffer_puts(out, "sound: nothing found wrong");
	}
	enumeration rest = {out, "; "};
	add_item(&rest, s->undecided, "question open", "questions open");
	rest.between = "; ";
	add_item(&rest, s->accepted, "finding accepted", "findings accepted");
	rest.between = "; ";
	add_item(&rest, s->known, "known finding left out", "known findings left out");
	rest.between = "; ";
	add_item(&rest, unread, "file could not be read", "files could not be read");
	if (!complete)
		tc_buffer_puts(out, "; stopped before the end");
}
