/* The cross-section of a part: what lies on it, top coat first, down to what it is made of; between the layers what was
 * done to the surface there; and on the margin the marks of what goes wrong, at the place where it does. */
#include <stdio.h>
#include <string.h>

#include "report/private.h"

#define BAND 8u       /* columns of the drawn band */
#define MARGIN_MAX 9u /* columns of marks in a line; more go on below */

typedef enum row_kind { ROW_LAYER, ROW_EDGE, ROW_WORK, ROW_BASE } row_kind;

typedef enum column { C_STEP, C_LABEL, C_ROLE, C_COATS, C_FILM, C_RESTS, COLUMNS } column;

typedef struct row {
	row_kind kind;
	const tc_layer *layer;
	const char *marks; /* "" none */
	const char *cell[COLUMNS];
} row;

typedef struct drawing {
	tc_arena *arena;
	tc_page *page;
	const tc_judgement *judgement;
	const tc_groups *groups;
	const tc_part *part;
	uint32_t rows, room;
	row *row;
	size_t width[COLUMNS], margin;
} drawing;

static const char *const titles[COLUMNS] = {"step", "", "role", "coats", "dry film", "rests"};

/* --- words ------------------------------------------------------------------------------------------------------- */

static const char *word(const drawing *d, tc_text vocabulary, uint32_t index)
{
	const tc_word_list *list = tc_library_words(d->judgement->model->library, vocabulary);
	return list && index < list->count ? list->words[index] : "";
}

static const char *kept(const drawing *d, tc_buffer *buffer)
{
	const char *text = tc_arena_text(d->arena, tc_words_text(buffer), buffer->failed ? 0 : buffer->length);
	d->page->out->failed = d->page->out->failed || buffer->failed;
	tc_buffer_free(buffer);
	return text ? text : "";
}

static const char *printed(const drawing *d, const char *format, unsigned number)
{
	const char *text = number ? tc_arena_print(d->arena, format, number) : NULL;
	return text ? text : "";
}

static bool even(const tc_layer *layer)
{
	for (uint32_t i = 1; i < layer->coats && i < TC_COATS_MAX; i++)
		if (layer->pass[i] != layer->pass[0] || tc_compare(layer->wet[i], layer->wet[0]) != 0)
			return false;
	return true;
}

static const char *coats_words(const drawing *d, const tc_layer *layer)
{
	if (!layer->step || layer->step->written->verb != TC_VERB_COAT)
		return layer->spot ? "spot" : layer->old ? "old" : "";
	tc_buffer out;
	tc_buffer_start(&out, tc_arena_allocator(d->arena));
	tc_buffer_print(&out, "%u", (unsigned)layer->coats);
	if (!even(layer)) {
		tc_buffer_puts(&out, " × various");
	} else if (layer->pass[0] < TC_PASS_COUNT) {
		const char *pass = word(d, TC_TEXT("pass"), layer->pass[0]);
		tc_buffer_print(&out, layer->pass_assumed ? " × (%s)" : " × %s", pass);
	} else if (isfinite(layer->wet[0])) {
		tc_buffer_puts(&out, " × ");
		tc_quantity_print(&out, TC_T_NUMBER, TC_DIM_LENGTH, layer->wet[0], 2, NULL);
		tc_buffer_puts(&out, " wet");
	}
	return kept(d, &out);
}

static const char *film_words(const drawing *d, const tc_layer *layer)
{
	const tc_value film = tc_layer_film(layer, d->judgement->model->end);
	if (film.state == TC_ABSENT)
		return "-";
	if (film.state == TC_UNKNOWN)
		return "?";
	tc_buffer out;
	tc_buffer_start(&out, tc_arena_allocator(d->arena));
	tc_quantity_print(&out, TC_T_NUMBER, TC_DIM_LENGTH, film.number, 2, NULL);
	return kept(d, &out);
}

/* How long it lies before the next layer is begun, or until the end. */
static const char *rests_words(const drawing *d, const tc_layer *layer)
{
	double until = d->judgement->model->end;
	if (layer->order == d->part->layers && until <= layer->done)
		return "end";
	if (layer->order < d->part->layers)
		until = d->part->layer[layer->order]->begun;
	tc_buffer out;
	tc_buffer_start(&out, tc_arena_allocator(d->arena));
	tc_duration_print(&out, until > layer->done ? until - layer->done : 0);
	return kept(d, &out);
}

/* --- marks ------------------------------------------------------------------------------------------------------- */

typedef enum spot { AT_EDGE, AT_LAYER, ANYWHERE } spot;

static bool is_here(const drawing *d, const tc_group *group, uint32_t step, spot where)
{
	const bool edge = group->first->rule->ask == TC_ASK_CONTACT;
	return group->mark[0] && group->first->step == step && group->parts >> d->part->index & 1 &&
	       (where == ANYWHERE || edge == (where == AT_EDGE));
}

/* Does b's mark follow right behind a's? */
static bool follows(const tc_group *a, const tc_group *b)
{
	const bool open_a = a->first->verdict == TC_V_UNDECIDED, open_b = b->first->verdict == TC_V_UNDECIDED;
	return open_a == open_b && b->rank == a->rank + 1;
}

static void add_run(const tc_group *first, const tc_group *last, tc_buffer *out)
{
	tc_buffer_print(out, "%s%s", out->length ? "," : "", first->mark);
	if (last->rank > first->rank)
		tc_buffer_print(out, "%s%s", last->rank > first->rank + 1 ? "–" : ",", last->mark);
}

/* The marks of a step on this part, those of one sort together, runs of them drawn together: `1,3,a–d`; "" for none. */
static const char *marks_at(const drawing *d, uint32_t step, spot where)
{
	tc_buffer out;
	tc_buffer_start(&out, tc_arena_allocator(d->arena));
	for (int open = 0; open <= 1; open++) {
		const tc_group *first = NULL, *last = NULL;
		for (uint32_t i = 0; i < d->groups->count; i++) {
			const tc_group *group = &d->groups->at[i];
			if ((group->first->verdict == TC_V_UNDECIDED) != open || !is_here(d, group, step, where))
				continue;
			if (first && !follows(last, group))
				add_run(first, last, &out);
			if (!first || !follows(last, group))
				first = group;
			last = group;
		}
		if (first)
			add_run(first, last, &out);
	}
	return kept(d, &out);
}

/* --- rows -------------------------------------------------------------------------------------------------------- */

static row *add_row(drawing *d, row_kind kind, const char *marks)
{
	if (!tc_arena_grow(d->arena, (void **)&d->row, d->rows, &d->room, sizeof *d->row))
		return NULL;
	row *r = &d->row[d->rows++];
	*r = (row){.kind = kind, .marks = marks};
	for (unsigned c = 0; c < COLUMNS; c++)
		r->cell[c] = "";
	return r;
}

static void add_layer(drawing *d, const tc_layer *layer, const char *marks)
{
	row *r = add_row(d, ROW_LAYER, marks);
	if (!r)
		return;
	r->layer = layer;
	r->cell[C_STEP] = layer->step ? printed(d, "%u", layer->step->number) : "";
	r->cell[C_LABEL] = layer->product->label;
	r->cell[C_ROLE] = layer->role != TC_NONE ? word(d, TC_TEXT("role"), layer->role) : "";
	r->cell[C_COATS] = coats_words(d, layer);
	r->cell[C_FILM] = film_words(d, layer);
	r->cell[C_RESTS] = rests_words(d, layer);
}

static const char *work_words(const drawing *d, const tc_step *step)
{
	const tc_written_step *w = step->written;
	const char *verb = word(d, TC_TEXT("verb"), w->verb), *text;
	if (w->with)
		text = tc_arena_print(d->arena, "%s %s", verb, w->with->label);
	else if (w->text)
		text = tc_arena_print(d->arena, "%s %s", verb, w->text);
	else
		text = verb;
	return text ? text : "";
}

/* What was done, without a layer. Rows come latest first; unmarked work of one place is gathered in a row, in order of time. */
static void add_work(drawing *d, const tc_step *step)
{
	const char *marks = marks_at(d, step->number, ANYWHERE), *words = work_words(d, step);
	if (step->written->verb == TC_VERB_WAIT && !*marks)
		return;
	row *above = d->rows ? &d->row[d->rows - 1] : NULL;
	if (!*marks && above && above->kind == ROW_WORK && !*above->marks) {
		const char *joined = tc_arena_print(d->arena, "%s, %s", words, above->cell[C_LABEL]);
		above->cell[C_LABEL] = joined ? joined : "";
		return;
	}
	row *r = add_row(d, ROW_WORK, marks);
	if (!r)
		return;
	r->cell[C_STEP] = *marks ? printed(d, "%u", step->number) : "";
	r->cell[C_LABEL] = words;
}

static void add_step(drawing *d, const tc_part_step *step)
{
	const uint32_t number = step->step->number;
	if (!step->layer) {
		add_work(d, step->step);
		return;
	}
	if (step->layer->step != step->step) { /* more of a layer that was begun before */
		if (*marks_at(d, number, ANYWHERE))
			add_work(d, step->step);
		return;
	}
	add_layer(d, step->layer, marks_at(d, number, AT_LAYER));
	const char *edge = marks_at(d, number, AT_EDGE);
	if (*edge)
		add_row(d, ROW_EDGE, edge);
}

static void add_base(drawing *d)
{
	for (uint32_t i = d->part->layers; i-- > 0;)
		if (!d->part->layer[i]->step)
			add_layer(d, d->part->layer[i], "");
	row *r = add_row(d, ROW_BASE, marks_at(d, 0, ANYWHERE));
	if (r)
		r->cell[C_LABEL] = d->part->written->substrate->label;
}

/* --- drawing ----------------------------------------------------------------------------------------------------- */

static void measure(drawing *d)
{
	for (unsigned c = 0; c < COLUMNS; c++)
		d->width[c] = tc_page_columns(d->page, titles[c]);
	d->margin = 3;
	for (uint32_t i = 0; i < d->rows; i++) {
		const row *r = &d->row[i];
		const size_t marks = tc_page_columns(d->page, r->marks);
		if (marks > d->margin)
			d->margin = marks > MARGIN_MAX ? MARGIN_MAX : marks;
		for (unsigned c = 0; c < COLUMNS; c++) {
			const size_t columns = tc_page_columns(d->page, r->cell[c]);
			if (columns > d->width[c] && r->kind == ROW_LAYER)
				d->width[c] = columns;
		}
	}
	size_t total = d->margin + 2 + BAND;
	for (unsigned c = 0; c < COLUMNS; c++)
		total += d->width[c] + 2;
	const size_t least = 10, over = total > d->page->width ? total - d->page->width : 0;
	if (over && d->width[C_LABEL] > least)
		d->width[C_LABEL] = d->width[C_LABEL] > least + over ? d->width[C_LABEL] - over : least;
}

static const char *band(const row *r)
{
	if (r->kind == ROW_EDGE)
		return "────────";
	if (r->kind == ROW_WORK)
		return "┄┄┄┄┄┄┄┄";
	if (r->kind == ROW_BASE)
		return "████████";
	if (r->layer->old)
		return "▓▓▓▓▓▓▓▓";
	if (r->layer->spot)
		return "  ▒▒▒▒  ";
	return r->layer->order % 2 ? "░░░░░░░░" : "▒▒▒▒▒▒▒▒";
}

static void add_cells(const drawing *d, const char *const *cell, tc_ink ink)
{
	for (unsigned c = 0; c < COLUMNS; c++) {
		tc_page_blanks(d->page, 2);
		const bool right = c == C_STEP || c == C_FILM;
		tc_page_cell(
		    d->page, c == C_LABEL && ink == TC_INK_PLAIN ? TC_INK_STRONG : ink, cell[c], d->width[c], right);
	}
	tc_page_break(d->page);
}

/* Puts as many marks as the margin holds, and hands back the rest. */
static const char *draw_marks(const drawing *d, const char *marks)
{
	size_t length = strlen(marks);
	const char *now = marks;
	while (length > 0 && now && tc_page_columns(d->page, now) > d->margin) {
		do
			length--;
		while (length > 0 && marks[length] != ',');
		now = tc_arena_text(d->arena, marks, length);
	}
	tc_page_cell(d->page, TC_INK_ERROR, now ? now : "", d->margin, true);
	tc_page_put(d->page, *marks ? TC_INK_ERROR : TC_INK_PLAIN, *marks ? "▸" : " ");
	tc_page_blanks(d->page, 1);
	return length > 0 && marks[length] == ',' ? marks + length + 1 : "";
}

static void draw_cells(const drawing *d, const row *r)
{
	tc_page_put(d->page, TC_INK_PLAIN, band(r));
	if (r->kind == ROW_LAYER || r->kind == ROW_EDGE) {
		add_cells(d, r->cell, TC_INK_PLAIN);
		return;
	}
	const size_t label = d->margin + 2 + BAND + 2 + d->width[C_STEP] + 2;
	tc_page_blanks(d->page, 2);
	tc_page_cell(d->page, TC_INK_PLAIN, r->cell[C_STEP], d->width[C_STEP], true);
	tc_page_blanks(d->page, 2);
	tc_page_wrap(d->page, r->kind == ROW_BASE ? TC_INK_STRONG : TC_INK_FAINT, r->cell[C_LABEL], label, label);
}

static void draw_row(const drawing *d, const row *r)
{
	const char *rest = draw_marks(d, r->marks);
	draw_cells(d, r);
	while (*rest) {
		rest = draw_marks(d, rest);
		tc_page_break(d->page);
	}
}

static void add_size(tc_buffer *out, double width, double depth)
{
	const tc_unit *mm = tc_unit_find(TC_TEXT("mm"));
	tc_quantity_print(out, TC_T_NUMBER, TC_DIM_LENGTH, width, 2, mm);
	tc_buffer_puts(out, " wide and ");
	tc_quantity_print(out, TC_T_NUMBER, TC_DIM_LENGTH, depth, 2, mm);
	tc_buffer_puts(out, " deep");
}

/* What is left of engraved lines, on the model and at full scale. */
static void add_lines(const drawing *d)
{
	const tc_part *p = d->part;
	const double scale = d->judgement->model->recipe->scale;
	tc_buffer out;

	if (!tc_known(p->width_left) || !tc_known(p->depth_left) || !tc_known(p->line_width) || !tc_known(p->line_depth))
		return;
	tc_buffer_start(&out, tc_arena_allocator(d->arena));
	tc_buffer_puts(&out, "engraved lines: cut ");
	add_size(&out, p->line_width.number, p->line_depth.number);
	if (!(p->width_left.number > 0) || !(p->depth_left.number > 0)) {
		tc_buffer_puts(&out, ", closed over at the end");
	} else {
		tc_buffer_puts(&out, "; left ");
		add_size(&out, p->width_left.number, p->depth_left.number);
		if (scale > 0) {
			tc_buffer_puts(&out, ", at full scale ");
			add_size(&out, p->width_left.number * scale, p->depth_left.number * scale);
		}
	}
	if (out.failed)
		d->page->out->failed = true;
	else
		tc_page_item(d->page, d->margin + 2, TC_INK_FAINT, "", d->margin + 2, out.at);
	tc_buffer_free(&out);
}

void tc_section_add(tc_page *page, const tc_judgement *judgement, const tc_groups *groups, uint32_t part)
{
	const tc_part *p = &judgement->model->part[part];
	tc_arena *arena = tc_arena_new(page->out->from, 0);
	if (!arena) {
		page->out->failed = true;
		return;
	}
	drawing d = {.arena = arena, .page = page, .judgement = judgement, .groups = groups, .part = p};
	for (uint32_t i = p->steps; i-- > 0;)
		add_step(&d, &p->step[i]);
	add_base(&d);
	if (tc_arena_failed(arena)) {
		page->out->failed = true;
	} else {
		measure(&d);
		tc_page_blanks(page, d.margin + 2 + BAND);
		add_cells(&d, titles, TC_INK_FAINT);
		for (uint32_t i = 0; i < d.rows; i++)
			draw_row(&d, &d.row[i]);
		add_lines(&d);
	}
	tc_arena_free(arena);
}

void tc_section_draw(const tc_judgement *judgement, uint32_t part, const tc_report_options *options, tc_buffer *out)
{
	tc_groups groups;
	tc_page page;
	tc_arena *arena = tc_arena_new(out->from, 0);
	tc_page_start(&page, out, options->width, options->color, options->ascii);
	if (arena && tc_groups_make(arena, judgement, &groups))
		tc_section_add(&page, judgement, &groups, part);
	else
		out->failed = true;
	tc_page_end(&page);
	tc_arena_free(arena);
}
