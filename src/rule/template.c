/* Text with holes: `{expr}`, `{expr as unit}`, `{{` and `}}`. */
#include <stdio.h>
#include <string.h>

#include "rule/private.h"

#define PIECES_MAX 128u

/* --- where a hole's figure is compared with a bound ---------------------------------------------------------------- */

static const tc_value *constant_of(const tc_expr *x, const tc_branch *b)
{
	return &x->constants[b->field];
}

static bool same(const tc_expr *x, uint32_t i, const tc_expr *y, uint32_t j)
{
	const tc_branch *a = &x->branches[i], *b = &y->branches[j];
	if (a->kind != b->kind || a->type != b->type || a->op != b->op || a->range != b->range || a->slot != b->slot ||
	    a->anchor_slot != b->anchor_slot)
		return false;
	if (a->kind != TC_A_NUMBER && a->field != b->field)
		return false;
	if (a->kind == TC_A_NUMBER &&
	    memcmp(&constant_of(x, a)->number, &constant_of(y, b)->number, sizeof(double)) != 0)
		return false;
	/* what else can differ stands in the text */
	if (a->kind > TC_A_WINDOW_AFTER && a->text && b->text && strcmp(a->text, b->text) != 0)
		return false;
	uint32_t m = a->child, n = b->child;
	for (; m != TC_NONE && n != TC_NONE; m = x->branches[m].next, n = y->branches[n].next)
		if (!same(x, m, y, n))
			return false;
	return m == n;
}

/* Does a bound read only names that still stand when the template is printed? */
static bool stands(const tc_expr *when, uint32_t branch, uint32_t visible)
{
	const tc_branch *b = &when->branches[branch];
	if (b->kind == TC_A_BIND || (b->kind == TC_A_NAME && b->slot >= TC_SLOT_COUNT && !(visible & 1u << b->slot)))
		return false;
	for (uint32_t i = b->child; i != TC_NONE; i = when->branches[i].next)
		if (!stands(when, i, visible))
			return false;
	return true;
}

static void find_bounds(const tc_expr *when, uint32_t visible, tc_piece *piece)
{
	uint32_t count = 0;
	piece->bounds[0] = piece->bounds[1] = TC_NONE;
	for (uint32_t i = 0; when && i < when->branch_count && count < 2; i++) {
		const tc_branch *b = &when->branches[i];
		if (b->kind != TC_A_COMPARE && b->kind != TC_A_BETWEEN)
			continue;
		const uint32_t first = b->child, second = when->branches[first].next,
		               third = when->branches[second].next;
		uint32_t bounds[2] = {TC_NONE, TC_NONE};
		if (same(when, first, piece->expr, piece->expr->root)) {
			bounds[0] = second;
			bounds[1] = third;
		} else if (b->kind == TC_A_COMPARE && same(when, second, piece->expr, piece->expr->root)) {
			bounds[0] = first;
		}
		for (uint32_t j = 0; j < 2 && count < 2; j++)
			if (bounds[j] != TC_NONE && stands(when, bounds[j], visible))
				piece->bounds[count++] = bounds[j];
	}
	piece->when = count ? when : NULL;
}

/* --- building -------------------------------------------------------------------------------------------------------- */

typedef struct builder {
	tc_compiler *c;
	const tc_passage *passage;
	tc_request request;
	const tc_expr *when;
	uint32_t visible; /* slots that `when` bound, as bits */
	tc_piece *pieces;
	uint32_t count;
	char *plain; /* the plain text since the last hole, braces undoubled */
	size_t length;
	bool bad;
} builder;

/* A message at a place of the template's own text. */
static void wrong(builder *b, const char *id, size_t at, const char *message)
{
	tc_diag_add(b->c->diags, TC_ERROR, id, tc_passage_place(b->passage, (uint32_t)at), "%s", message);
	b->bad = true;
}

static void end_plain(builder *b)
{
	if (b->length && b->count < PIECES_MAX)
		b->pieces[b->count++].text = tc_arena_text(b->c->arena, b->plain, b->length);
	b->length = 0;
}

/* The `}` that ends the hole which begins at `at`: not one inside quotes. */
static size_t end_of_hole(tc_text text, size_t at)
{
	bool quoted = false;
	for (; at < text.length; at++) {
		if (text.at[at] == '\'')
			quoted = !quoted;
		else if (text.at[at] == '}' && !quoted)
			break;
	}
	return at;
}

/* `as h`: the unit must be of the figure's dimension. */
static void take_unit(builder *b, tc_piece *piece, tc_text rest, size_t at)
{
	const tc_text name = tc_text_trim(rest);
	if (name.length == 0)
		return;
	const tc_unit *unit = tc_unit_find(name);
	const tc_expr *x = piece->expr;
	char message[160];
	if (!unit) {
		const tc_text near = tc_unit_nearest(name);
		snprintf(message, sizeof message, "no unit `%.*s`%s%.*s%s", TC_TEXT_F(name), near.length ? "; `" : "",
		    TC_TEXT_F(near), near.length ? "` is near" : "");
		wrong(b, "unit", at, message);
	} else if (unit->type != x->type || (x->type == TC_T_NUMBER && !tc_dim_same(unit->dim, x->dim))) {
		snprintf(message, sizeof message, "`%.*s` is no unit of %s", TC_TEXT_F(name),
		    tc_type_name(b->c->scratch, (tc_type)x->type, x->dim, (tc_subject)x->subject));
		wrong(b, "unit", at, message);
	} else {
		piece->unit = tc_arena_text(b->c->arena, name.at, name.length);
	}
}

static void add_hole(builder *b, size_t from, size_t to)
{
	end_plain(b);
	if (b->count == PIECES_MAX) {
		wrong(b, "bound", from, "a text has at most 128 pieces");
		return;
	}
	tc_passage passage = *b->passage;
	passage.text = (tc_text){passage.text.at + from, to - from};
	passage.base += (uint32_t)from;
	tc_text rest = {"", 0};
	const tc_expr *expr = tc_expr_build(b->c, &passage, &b->request, &rest);
	if (!expr) {
		b->bad = true;
		return;
	}
	tc_piece *piece = &b->pieces[b->count++];
	piece->expr = expr;
	find_bounds(b->when, b->visible, piece);
	take_unit(b, piece, rest, (size_t)(tc_text_trim(rest).at - b->passage->text.at));
}

static void read_pieces(builder *b)
{
	const tc_text text = b->passage->text;
	for (size_t i = 0; i < text.length; i++) {
		const char c = text.at[i];
		const bool doubled = i + 1 < text.length && text.at[i + 1] == c;
		if ((c != '{' && c != '}') || doubled) {
			b->plain[b->length++] = c;
			i += doubled && (c == '{' || c == '}');
			continue;
		}
		if (c == '}') {
			wrong(b, "template", i, "a `}` without its `{`; a brace itself is written `}}`");
			return;
		}
		const size_t end = end_of_hole(text, i + 1);
		if (end == text.length) {
			wrong(b, "template", i, "this `{` has no `}`; a brace itself is written `{{`");
			return;
		}
		add_hole(b, i + 1, end);
		i = end;
	}
	end_plain(b);
}

static const tc_piece *keep_pieces(const builder *b)
{
	tc_piece *kept = TC_ARRAY(b->c->arena, b->count, tc_piece);
	for (uint32_t i = 0; kept && i < b->count; i++)
		kept[i] = b->pieces[i]; /* no padding in it */
	return kept;
}
_Static_assert(sizeof(tc_piece) == 4 * sizeof(void *) + 2 * sizeof(uint32_t), "tc_piece has no padding");

const tc_template *tc_template_build(
    tc_compiler *c, const tc_passage *passage, const tc_request *request, const tc_expr *when)
{
	builder b = {.c = c,
	    .passage = passage,
	    .request = *request,
	    .when = when,
	    .pieces = TC_ARRAY(c->scratch, PIECES_MAX, tc_piece),
	    .plain = tc_arena_get(c->scratch, passage->text.length + 1)};
	if (!b.pieces || !b.plain)
		return NULL;
	b.request.may_end_with_as = true;
	b.request.want = TC_T_BAD;
	for (uint32_t i = 0; i < request->names_count; i++)
		b.visible |= 1u << request->names[i].slot;
	read_pieces(&b);
	tc_template *t = b.bad ? NULL : TC_NEW(c->arena, tc_template);
	if (!t)
		return NULL;
	t->count = b.count;
	t->pieces = keep_pieces(&b);
	return tc_arena_failed(c->arena) || tc_arena_failed(c->scratch) ? NULL : t;
}

/* --- printing -------------------------------------------------------------------------------------------------------- */

static void print_hole(tc_question *question, const tc_piece *piece, tc_buffer *out)
{
	tc_field_row room;
	tc_value bounds[2];
	uint32_t count = 0;
	for (uint32_t i = 0; piece->when && i < 2; i++) {
		if (piece->bounds[i] == TC_NONE)
			continue;
		const tc_branch *b = &piece->when->branches[piece->bounds[i]];
		bounds[count++] = tc_run_branch(question, piece->when, b, TC_STEPS_PER_ASK, NULL);
	}
	const tc_unit *unit = piece->unit ? tc_unit_find(tc_text_of(piece->unit)) : NULL;
	tc_value_beside(question, tc_evaluate(question, piece->expr), piece->expr->dim,
	    tc_vocabulary_of(piece->expr->vocabulary_field, &room), unit, bounds, count, out);
}

void tc_template_print(tc_question *question, const tc_template *template, tc_buffer *out)
{
	for (uint32_t i = 0; i < template->count; i++)
		if (template->pieces[i].text)
			tc_buffer_puts(out, template->pieces[i].text);
		else
			print_hole(question, &template->pieces[i], out);
}
