/* The rows of field.def and, behind them, the properties of the library. */
#include "rule/field.h"

#include <string.h>

/* The dimension by address: the constants of quantity.h are no constant expressions. */
typedef struct row {
	uint8_t subject, type, of, flags, unsaid, cost;
	const char *name, *vocabulary, *arguments, *help;
	const tc_dim *dim;
} row;

enum { N = 0, A = TC_MAY_BE_ABSENT, P = TC_NEVER_NEGATIVE, W = TC_AS_WRITTEN };

/* The column `extra` is a vocabulary, or a subject, or nothing, by the type. */
#define EXTRA_SYMBOL(x) .vocabulary = (x)
#define EXTRA_SYMBOLS(x) .vocabulary = (x)
#define EXTRA_SUBJECT(x) .of = TC_S_##x
#define EXTRA_TRUTH(x) .vocabulary = NULL
#define EXTRA_NUMBER(x) .vocabulary = NULL
#define EXTRA_SHARE(x) .vocabulary = NULL
#define EXTRA_TEMPERATURE(x) .vocabulary = NULL
#define EXTRA_WINDOW(x) .vocabulary = NULL
#define EXTRA_TEXT(x) .vocabulary = NULL

static const row rows[TC_FIELD_COUNT] = {
#define CALL(subject_, id, name_, type_, dim_, extra, flags_, unsaid_, cost_, arguments_, help_)                       \
	[TC_F_##subject_##_##id] = {.subject = TC_S_##subject_,                                                        \
	    .name = name_,                                                                                             \
	    .type = TC_T_##type_,                                                                                      \
	    .dim = &TC_DIM_##dim_,                                                                                     \
	    EXTRA_##type_(extra),                                                                                      \
	    .flags = flags_,                                                                                           \
	    .unsaid = TC_UNSAID_##unsaid_,                                                                             \
	    .cost = cost_,                                                                                             \
	    .arguments = arguments_,                                                                                   \
	    .help = help_},
#define FIELD(subject, id, name, type, dim, extra, flags, unsaid, cost, help)                                          \
	CALL(subject, id, name, type, dim, extra, flags, unsaid, cost, NULL, help)
#include "rule/field.def"
#undef FIELD
#undef CALL
};
_Static_assert((int)TC_FIELD_COUNT < (int)TC_FIELD_PROPERTY, "properties stand behind the fields");

static void fill_from_row(uint32_t field, tc_field_row *room)
{
	const row *r = &rows[field];
	*room = (tc_field_row){.subject = (tc_subject)r->subject,
	    .name = r->name,
	    .type = (tc_type)r->type,
	    .dim = *r->dim,
	    .vocabulary = r->vocabulary,
	    .of = (tc_subject)r->of,
	    .flags = r->flags,
	    .unsaid = (tc_unsaid)r->unsaid,
	    .cost = r->cost,
	    .arguments = r->arguments,
	    .help = r->help};
}

/* Every property can be absent: an entry may say `none`, and outside its sections there is none. A blend and a list of
 * entries have no type in the language beyond `has` and `known`. */
static void fill_from_property(tc_property property, tc_field_row *room)
{
	const tc_property_row *p = tc_property_row_of(property);
	*room = (tc_field_row){.subject = TC_S_PRODUCT,
	    .name = p->key,
	    .type = p->type,
	    .dim = p->dim,
	    .vocabulary = p->vocabulary,
	    .flags = A | W,
	    .unsaid = TC_UNSAID_UNKNOWN,
	    .cost = 0,
	    .help = p->help};
	if (p->form == TC_FORM_BLEND || p->form == TC_FORM_ENTRIES)
		room->type = TC_T_BLEND;
	if (p->type == TC_T_WINDOW)
		room->dim = TC_DIM_TIME;
	if ((p->type == TC_T_NUMBER || p->type == TC_T_SHARE) && p->low >= 0)
		room->flags |= P;
}

const tc_field_row *tc_field_row_of(uint32_t field, tc_field_row *room)
{
	if (field < TC_FIELD_COUNT)
		fill_from_row(field, room);
	else if (field >= TC_FIELD_PROPERTY && field - TC_FIELD_PROPERTY < TC_PROPERTY_COUNT)
		fill_from_property((tc_property)(field - TC_FIELD_PROPERTY), room);
	else
		return NULL;
	return room;
}

static bool has_material(tc_subject subject)
{
	return subject == TC_S_LAYER || subject == TC_S_EXPOSED || subject == TC_S_LIQUID || subject == TC_S_PRODUCT;
}

uint32_t tc_field_find(tc_subject subject, tc_text name)
{
	for (uint32_t i = 0; i < TC_FIELD_COUNT; i++)
		if (rows[i].subject == subject && tc_text_is(name, rows[i].name))
			return i;
	if (subject == TC_S_EXPOSED)
		return tc_field_find(TC_S_LAYER, name);
	if (!has_material(subject))
		return TC_NONE;
	const tc_property property = tc_property_find(name);
	return property == TC_PROPERTY_COUNT ? TC_NONE : TC_FIELD_PROPERTY + (uint32_t)property;
}

void tc_field_each(tc_subject subject, void (*each)(void *user, uint32_t field, const char *name), void *user)
{
	for (uint32_t i = 0; i < TC_FIELD_COUNT; i++)
		if (rows[i].subject == subject || (subject == TC_S_EXPOSED && rows[i].subject == TC_S_LAYER))
			if (tc_field_find(subject, tc_text_of(rows[i].name)) == i)
				each(user, i, rows[i].name);
	for (uint32_t p = 0; has_material(subject) && p < TC_PROPERTY_COUNT; p++) {
		const char *key = tc_property_row_of((tc_property)p)->key;
		if (tc_field_find(subject, tc_text_of(key)) == TC_FIELD_PROPERTY + p)
			each(user, TC_FIELD_PROPERTY + p, key);
	}
}

const char *tc_subject_name(tc_subject subject)
{
	static const char *const names[TC_SUBJECT_COUNT] = {
	    [TC_S_ASK] = "the question",
	    [TC_S_RECIPE] = "the recipe",
	    [TC_S_SHOP] = "the workshop",
	    [TC_S_PART] = "a part",
	    [TC_S_STEP] = "a step",
	    [TC_S_LAYER] = "a layer",
	    [TC_S_EXPOSED] = "an exposed material",
	    [TC_S_LIQUID] = "a liquid",
	    [TC_S_PRODUCT] = "a product",
	};
	return subject < TC_SUBJECT_COUNT ? names[subject] : "nothing";
}
