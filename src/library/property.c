/* The rows of property.def as a table. */
#include "library/private.h"

/* Sections, as property.def abbreviates them. */
#define BIT(section) (1u << TC_SECTION_##section)
#define S            BIT(SOLVENTS)
#define B            BIT(BLENDS)
#define U            BIT(SUBSTRATES)
#define C            BIT(COATINGS)
#define F            BIT(FILLERS)
#define A            BIT(ADHESIVES)
#define D            BIT(DECALS)
#define G            BIT(AGENTS)
#define R            BIT(ABRASIVES)
#define T            BIT(METHODS)
#define L            (C | F | A | D)
#define M            (U | C | F | A | D)
#define W            (B | G | S)

#define TYPE_NUMBER      TC_T_NUMBER, TC_FORM_PLAIN
#define TYPE_SHARE       TC_T_SHARE, TC_FORM_PLAIN
#define TYPE_TEMPERATURE TC_T_TEMPERATURE, TC_FORM_PLAIN
#define TYPE_WINDOW      TC_T_WINDOW, TC_FORM_PLAIN
#define TYPE_SYMBOL      TC_T_SYMBOL, TC_FORM_PLAIN
#define TYPE_SYMBOLS     TC_T_SYMBOLS, TC_FORM_PLAIN
#define TYPE_TRUTH       TC_T_TRUTH, TC_FORM_PLAIN
#define TYPE_TEXT        TC_T_TEXT, TC_FORM_PLAIN
#define TYPE_BLEND       TC_T_BLEND, TC_FORM_BLEND
#define TYPE_ENTRIES     TC_T_TEXT, TC_FORM_ENTRIES
#define TYPE_RATIO       TC_T_TEXT, TC_FORM_RATIO

/* Exponents in halves; the constants of base/quantity.h are no constant expressions. The test compares them. */
#define DIM_NONE            {0, 0, 0, 0, 0}
#define DIM_TIME            {0, 0, 2, 0, 0}
#define DIM_LENGTH          {2, 0, 0, 0, 0}
#define DIM_VOLUME          {6, 0, 0, 0, 0}
#define DIM_SPEED           {2, 0, -2, 0, 0}
#define DIM_FLOW            {6, 0, -2, 0, 0}
#define DIM_PRESSURE        {-2, 2, -4, 0, 0}
#define DIM_MOLAR_MASS      {0, 2, 0, 0, -2}
#define DIM_MOLAR_VOLUME    {6, 0, 0, 0, -2}
#define DIM_DENSITY         {-6, 2, 0, 0, 0}
#define DIM_MOLAR_ENERGY    {4, 2, -4, 0, -2}
#define DIM_SURFACE_TENSION {0, 2, -4, 0, 0}
#define DIM_SOLUBILITY      {-1, 1, -2, 0, 0}
#define DIM_DIFFUSIVITY     {4, 0, -2, 0, 0}

static const tc_property_row rows[TC_PROPERTY_COUNT] = {
#define PROPERTY(id, key, type, dim, words, low, high, sections, help)                                                  \
	[TC_P_##id] = {key, TYPE_##type, DIM_##dim, words, low, high, sections, help},
#include "library/property.def"
#undef PROPERTY
};

static const tc_property_row default_rows[TC_DEFAULT_COUNT] = {
#define DEFAULT(id, key, type, dim, low, high, help) [TC_D_##id] = {key, TYPE_##type, DIM_##dim, NULL, low, high, 0, help},
#include "library/default.def"
#undef DEFAULT
};

static const uint8_t key_lengths[TC_PROPERTY_COUNT] = {
#define PROPERTY(id, key, type, dim, words, low, high, sections, help) [TC_P_##id] = sizeof(key) - 1,
#include "library/property.def"
#undef PROPERTY
};

const tc_property_row *tc_property_row_of(tc_property property)
{
	return &rows[property];
}

const tc_property_row *tc_default_row_of(tc_default which)
{
	return &default_rows[which];
}

tc_property tc_property_find(tc_text key)
{
	unsigned p = 0;
	while (p < TC_PROPERTY_COUNT && !(key_lengths[p] == key.length && tc_text_is(key, rows[p].key)))
		p++;
	return (tc_property)p;
}

tc_value tc_entry_value(const tc_entry *entry, tc_property property)
{
	const tc_property_row *row = &rows[property];
	if (entry->sections && !(row->sections & entry->sections))
		return tc_absent(row->type);
	const tc_figure *figure = entry->figures[property];
	return figure ? figure->value : tc_unknown(row->type);
}
