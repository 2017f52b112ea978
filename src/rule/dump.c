/* The compiled form as text, for golden tests and `rules --code`. */
#include <string.h>

#include "rule/private.h"

static const char *const op_names[TC_OP_COUNT] = {
#define X(id, name) [TC_OP_##id] = name,
    TC_OPS(X)
#undef X
};

static void slot(uint32_t number, tc_buffer *out)
{
	static const char *const names[TC_SLOT_COUNT] = {
	    "recipe", "shop", "part", "step", "coat", "under", "liquid", "new"};
	if (number < TC_SLOT_COUNT)
		tc_buffer_puts(out, names[number]);
	else
		tc_buffer_print(out, "#%u", number - TC_SLOT_COUNT + 1);
}

static void constant(const tc_value *v, tc_buffer *out)
{
	switch ((tc_type)v->type) {
	case TC_T_TEXT:
		tc_buffer_print(out, "'%s'", v->text);
		break;
	case TC_T_TRUTH:
		tc_buffer_puts(out, "yes");
		break;
	default:
		tc_buffer_number(out, v->number, 1, 17);
		tc_buffer_puts(out, v->type == TC_T_SHARE         ? " (share)"
		                    : v->type == TC_T_TEMPERATURE ? " (temperature)"
		                                                  : "");
	}
}

static void field(uint32_t number, tc_buffer *out)
{
	tc_field_row room;
	const tc_field_row *row = tc_field_row_of(number, &room);
	tc_buffer_puts(out, row ? row->name : "?");
}

static const char *word(const tc_library *library, uint32_t index, const char *vocabulary)
{
	if (!vocabulary)
		return tc_library_entry(library, index)->id;
	if (strcmp(vocabulary, "defect") == 0)
		return tc_library_defect(library, index, NULL);
	return tc_library_words(library, tc_text_of(vocabulary))->words[index];
}

/* The vocabulary of an `is`: that of the field before it. */
static const char *vocabulary_before(const tc_expr *x, uint32_t at)
{
	tc_field_row room;
	const tc_ins *before = &x->code[at - 1];
	for (uint32_t i = at; before->op == TC_OP_KEEP && i > 1; i--)
		before = &x->code[i - 2];
	return tc_vocabulary_of(before->b, &room);
}

static void list(const tc_rulebook *rulebook, const tc_expr *x, uint32_t at, tc_buffer *out)
{
	const tc_ins *i = &x->code[at];
	const char *vocabulary = i->op == TC_OP_IS_KIND ? NULL : vocabulary_before(x, at);
	const uint32_t *ids = x->lists + i->b;
	for (uint32_t j = 1; j <= ids[0]; j++) {
		tc_buffer_puts(out, j > 1 ? ", " : "");
		tc_buffer_puts(out, word(rulebook->library, ids[vocabulary ? j : 2 * j - 1], vocabulary));
	}
}

static void fold(const tc_ins *i, tc_buffer *out)
{
	const uint32_t flags = i->b >> 24;
	tc_buffer_print(out, "%s of %s as ", tc_fold_names[i->b & 0xF], tc_range_names[(i->b >> 4) & 0xF]);
	slot((i->b >> 8) & 0xFF, out);
	if (flags & TC_FOLD_ANCHORED)
		tc_buffer_puts(out, ", anchored");
	if (flags & TC_FOLD_PAIR)
		tc_buffer_puts(out, ", known part");
	if (i->n)
		tc_buffer_print(out, ", forgets %u", i->n);
	tc_buffer_print(out, ", then -> %u", i->a);
}

static void arguments(uint32_t count, tc_buffer *out)
{
	if (count)
		tc_buffer_print(out, ", %u argument%s", count, count == 1 ? "" : "s");
}

static void operands(const tc_rulebook *rulebook, const tc_expr *x, uint32_t at, tc_buffer *out)
{
	const tc_ins *i = &x->code[at];
	switch ((tc_op)i->op) {
	case TC_OP_CONST:
	case TC_OP_MATCHES:
		constant(&x->constants[i->b], out);
		break;
	case TC_OP_SLOT:
	case TC_OP_BIND:
		slot(i->b, out);
		break;
	case TC_OP_ASK:
	case TC_OP_HAS_ASK:
		field(i->b, out);
		break;
	case TC_OP_FIELD:
		if (i->n) {
			slot(i->n - 1u, out);
			tc_buffer_char(out, '.');
		}
		field(i->b, out);
		arguments(i->a >> 8, out);
		break;
	case TC_OP_HAS:
		field(i->b, out);
		arguments(i->n, out);
		break;
	case TC_OP_COMPARE:
		tc_buffer_puts(out, tc_compare_names[i->n]);
		if (i->a) {
			tc_buffer_char(out, ' ');
			constant(&x->constants[i->a - 1], out);
		}
		break;
	case TC_OP_AND:
	case TC_OP_OR:
		if (i->a)
			tc_buffer_print(out, "%s -> %u", i->op == TC_OP_AND ? "if false" : "if true", i->a);
		break;
	case TC_OP_COMPARE_PAIR:
		tc_buffer_print(out, "%s%s", tc_compare_names[i->n], i->a ? ", on the right" : "");
		break;
	case TC_OP_IN_SPANS:
		tc_buffer_print(out, "%u, open %u", i->n, i->b);
		break;
	case TC_OP_IS_KIND:
	case TC_OP_IS_WORD:
	case TC_OP_IS_MEMBER:
		if (i->n) {
			slot(i->n - 1u, out);
			tc_buffer_puts(out, ": ");
		}
		list(rulebook, x, at, out);
		break;
	case TC_OP_MIN:
	case TC_OP_MAX:
	case TC_OP_KEEP:
		tc_buffer_print(out, "%u", i->n);
		break;
	case TC_OP_ONCE:
		tc_buffer_print(out, "%u, then -> %u", i->n, i->a);
		break;
	case TC_OP_FALSE_JUMP:
	case TC_OP_TRUE_JUMP:
	case TC_OP_NEXT:
		tc_buffer_print(out, "-> %u", i->a);
		break;
	case TC_OP_FOLD:
		fold(i, out);
		break;
	default:
		break;
	}
}

void tc_expr_dump(const tc_rulebook *rulebook, const tc_expr *expr, tc_buffer *out)
{
	static const char *const types[] = {"bad", "truth", "number", "share", "temperature", "window", "symbol",
	    "symbols", "text", "subject", "blend"};
	tc_buffer_print(out, "%s, %u instructions, %u values at most\n", types[expr->type], expr->length, expr->stack);
	for (uint32_t i = 0; i < expr->length; i++) {
		tc_buffer_print(out, "%4u  %s", i, op_names[expr->code[i].op]);
		const size_t before = out->length;
		tc_buffer_char(out, ' ');
		operands(rulebook, expr, i, out);
		if (!out->failed && out->length == before + 1)
			out->at[--out->length] = '\0';
		tc_buffer_char(out, '\n');
	}
}
