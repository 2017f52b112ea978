/* A blend given by its parts: `toluene:40,n-butyl-acetate:30,acetone:30`. Parts are shares by volume in any
 * measure; one that is itself a blend of the library is taken as its solvents. */
#include "judge/try_private.h"

#include <string.h>

bool tc_try_is_parts(const char *liquid)
{
	return strchr(liquid, ':') != NULL;
}

static tc_status pour(tc_trying *t, uint32_t entry, double amount)
{
	for (uint32_t i = 0; i < t->parts; i++)
		if (t->part[i] == entry) {
			t->share[i] += amount;
			return TC_OK;
		}
	if (t->parts == TC_BLEND_MAX) {
		tc_try_refuse(t, "bound", "LIQUID", "more than %u solvents in one blend", TC_BLEND_MAX);
		return TC_BAD;
	}
	t->part[t->parts] = entry;
	t->share[t->parts++] = amount;
	return TC_OK;
}

static tc_status pour_entry(tc_trying *t, const tc_entry *entry, double amount)
{
	const tc_value blend = tc_entry_value(entry, TC_P_SOLVENTS);
	tc_status status = TC_OK;

	if (entry->section == TC_SECTION_SOLVENTS)
		return pour(t, entry->index, amount);
	if (!tc_known(blend)) {
		tc_try_refuse(t, "wrong-material", "LIQUID",
		    "the solvents of `%s` are not known, so it cannot be part of a blend", entry->id);
		return TC_BAD;
	}
	t->typical = true;
	for (uint32_t i = 0; i < blend.blend->count && status == TC_OK; i++)
		status = pour(t, blend.blend->parts[i].entry, amount * blend.blend->parts[i].share);
	return status;
}

/* `40` or `40 %`, above zero. */
static bool read_amount(tc_text text, double *amount)
{
	text = tc_text_trim(text);
	const size_t digits = tc_number_read(text.at, text.length, false, amount);
	const tc_text behind = tc_text_trim((tc_text){text.at + digits, text.length - digits});
	return digits > 0 && (behind.length == 0 || tc_text_is(behind, "%")) && *amount > 0 && *amount < 1e9;
}

static tc_status read_part(tc_trying *t, tc_text part, tc_buffer *label)
{
	static const uint32_t groups[] = {1u << TC_SECTION_SOLVENTS, 1u << TC_SECTION_BLENDS};
	size_t colon = part.length;
	double amount;

	while (colon > 0 && part.at[colon - 1] != ':')
		colon--;
	if (colon == 0 || !read_amount((tc_text){part.at + colon, part.length - colon}, &amount)) {
		tc_try_refuse(t, "wrong-shape", "LIQUID",
		    "`%.*s` is no part of a blend; write each as name and share by volume, such as "
		    "`toluene:40,acetone:60`",
		    (int)part.length, part.at);
		return TC_BAD;
	}
	const tc_text name = tc_text_trim((tc_text){part.at, colon - 1});
	const tc_entry *entry = tc_try_find(t, "LIQUID", name, groups, 2);
	if (!entry)
		return TC_BAD;
	tc_buffer_print(label, "%s%s ", label->length ? ", " : "", entry->name);
	tc_buffer_number(label, amount, 1, 4);
	return pour_entry(t, entry, amount);
}

static void add_up(tc_trying *t)
{
	double sum = 0;

	for (uint32_t i = 0; i < t->parts; i++)
		sum += t->share[i];
	for (uint32_t i = 0; i < t->parts; i++)
		t->share[i] /= sum;
}

tc_status tc_try_parts(tc_trying *t)
{
	const char *at = t->ask->liquid;
	tc_status status = TC_OK;
	tc_buffer label;

	tc_buffer_start(&label, tc_arena_allocator(t->arena));
	while (status == TC_OK) {
		const size_t length = strcspn(at, ",");
		status = read_part(t, (tc_text){at, length}, &label);
		if (!at[length])
			break;
		at += length + 1;
	}
	if (status == TC_OK)
		add_up(t);
	t->blend_label = label.failed ? NULL : tc_arena_text(t->arena, label.at ? label.at : "", label.length);
	tc_buffer_free(&label);
	return t->blend_label ? status : TC_NO_MEMORY;
}
