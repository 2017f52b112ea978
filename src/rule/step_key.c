#include "rule/step_key.h"

#define S(section) (1u << TC_SECTION_##section)
#define V(verb) (1u << TC_VERB_##verb)
#define ALL ((1u << TC_VERB_COUNT) - 1)

static const tc_step_row verbs[] = {
#define VERB(id, name, form, dim, vocabulary, sections, help)                                                          \
	[TC_VERB_##id] = {name, TC_STEP_##form, &TC_DIM_##dim, vocabulary, sections, V(id), help},
#define KEY(id, name, form, dim, vocabulary, sections, verbs, help)
#include "rule/step_key.def"
#undef VERB
#undef KEY
};
_Static_assert(sizeof verbs / sizeof *verbs == TC_VERB_COUNT, "a row for each verb");

static const tc_step_row keys[] = {
#define VERB(id, name, form, dim, vocabulary, sections, help)
#define KEY(id, name, form, dim, vocabulary, sections, verbs, help)                                                    \
	[TC_K_##id] = {name, TC_STEP_##form, &TC_DIM_##dim, vocabulary, sections, verbs, help},
#include "rule/step_key.def"
#undef VERB
#undef KEY
};

const tc_step_row *tc_step_verb(uint32_t verb)
{
	return verb < TC_VERB_COUNT ? &verbs[verb] : NULL;
}

const tc_step_row *tc_step_key_of(uint32_t key)
{
	return key < TC_STEP_KEY_COUNT ? &keys[key] : NULL;
}

static uint32_t find(const tc_step_row *rows, uint32_t count, tc_text name)
{
	for (uint32_t i = 0; i < count; i++)
		if (tc_text_is(name, rows[i].name))
			return i;
	return TC_NONE;
}

uint32_t tc_step_verb_find(tc_text name)
{
	return find(verbs, TC_VERB_COUNT, name);
}

uint32_t tc_step_key_find(tc_text name)
{
	return find(keys, TC_STEP_KEY_COUNT, name);
}

bool tc_step_is_quantity(const tc_step_row *row)
{
	return row->form == TC_STEP_NUMBER || row->form == TC_STEP_SHARE || row->form == TC_STEP_TEMPERATURE;
}
