/* A finding's message and reasons, from the leaves that decided. */
#include "judge/private.h"

#include <stdio.h>
#include <string.h>

#define LEAVES_MAX 24

static const char *keep(tc_arena *arena, tc_buffer *buffer)
{
	const char *text = buffer->failed ? NULL : tc_arena_text(arena, buffer->at ? buffer->at : "", buffer->length);
	tc_buffer_free(buffer);
	return text;
}

static const char *message_of(tc_findings *fs, const tc_rule *rule, tc_truth truth)
{
	tc_buffer out;

	tc_buffer_start(&out, tc_arena_allocator(fs->scene->arena));
	if (truth == TC_TRUE)
		tc_template_print(&fs->question, rule->says, &out);
	else
		tc_buffer_puts(&out, rule->about);
	return keep(fs->scene->arena, &out);
}

/* The SI unit of a number's dimension, as text. */
static const char *si_unit(tc_arena *arena, tc_type type, tc_dim dim)
{
	static const struct {
		const char *unit;
		size_t at;
	} rows[] = {{"m", offsetof(tc_dim, length)}, {"kg", offsetof(tc_dim, mass)}, {"s", offsetof(tc_dim, time)},
	    {"K", offsetof(tc_dim, temperature)}, {"mol", offsetof(tc_dim, amount)}};
	char text[64] = "";
	size_t n = 0;

	if (type == TC_T_TEMPERATURE)
		return tc_arena_text(arena, "K", 1);
	if (type != TC_T_NUMBER || tc_dim_none(dim))
		return NULL;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		int halves = ((const int8_t *)&dim)[rows[i].at];
		if (halves == 0)
			continue;
		int wrote = halves == 2 ? snprintf(text + n, sizeof text - n, "%s%s", n ? "." : "", rows[i].unit)
		    : halves % 2 == 0   ? snprintf(text + n, sizeof text - n, "%s%s%d", n ? "." : "", rows[i].unit, halves / 2)
		                        : snprintf(text + n, sizeof text - n, "%s%s%d/2", n ? "." : "", rows[i].unit, halves);
		if (wrote < 0 || (size_t)wrote >= sizeof text - n)
			break;
		n += (size_t)wrote;
	}
	return tc_arena_text(arena, text, n);
}

/* A field's line of help, with the name of what was asked about in place of its X. */
static const char *help_of(tc_arena *arena, const struct tc_leaf_path *path, const tc_field_row *row)
{
	const tc_value x = path->arguments[0];
	const tc_product *product = x.type == TC_T_SUBJECT && tc_known(x) ? tc_subject_product((tc_subject)x.subject, x.is) : NULL;
	const char *at = strstr(row->help, " X");

	if (!row->arguments || row->arguments[0] != 'X' || !product || !at)
		return row->help;
	return tc_arena_print(arena, "%.*s %s%s", (int)(at - row->help), row->help, product->label, at + 2);
}

static bool reason_of(const tc_scene *scene, const tc_leaf *leaf, const struct tc_leaf_path *path, tc_reason *reason)
{
	tc_arena *arena = scene->arena;
	tc_field_row room;
	bool number = tc_known(path->value) &&
	    (path->value.type == TC_T_NUMBER || path->value.type == TC_T_SHARE || path->value.type == TC_T_TEMPERATURE);

	*reason = (tc_reason){.fact = path->text,
	    .test = leaf->text,
	    .text = tc_arena_text(arena, path->printed, strlen(path->printed)),
	    .has_number = number,
	    .number = number ? path->value.number : 0};
	if (path->field != TC_NONE)
		reason->about = help_of(arena, path, tc_field_row_of(path->field, &room));
	if (number)
		reason->unit = si_unit(arena, (tc_type)path->value.type, path->dim);
	tc_origin_of(scene, path, &reason->from, arena);
	return reason->text != NULL;
}

static bool seen(const tc_need *needs, uint32_t count, const char *datum)
{
	for (uint32_t i = 0; i < count; i++)
		if (strcmp(needs[i].datum, datum) == 0)
			return true;
	return false;
}

/* What the unknown leaves lack, each once. */
static bool needs_of(const tc_scene *scene, const tc_leaf *leaves, uint32_t count, tc_why *why)
{
	tc_need *needs = TC_ARRAY(scene->arena, 4 * count + 1, tc_need);

	if (!needs)
		return false;
	for (uint32_t i = 0; i < count; i++)
		for (uint32_t p = 0; p < leaves[i].count; p++) {
			const struct tc_leaf_path *path = &leaves[i].paths[p];
			tc_need n;
			bool unsure_kind = path->field == TC_NONE && path->value.type == TC_T_SUBJECT;
			if (path->value.state != TC_UNKNOWN && !unsure_kind)
				continue;
			if (tc_need_of(scene, path, &n, scene->arena) && !seen(needs, why->needs, n.datum))
				needs[why->needs++] = n;
		}
	why->need = needs;
	return true;
}

/* Does every figure that a finding rests on stand firm, or is the weather of the workshop assumed? */
static bool rests_on_assumed_weather(const tc_leaf *leaves, uint32_t count)
{
	for (uint32_t i = 0; i < count; i++)
		for (uint32_t p = 0; p < leaves[i].count; p++)
			if (leaves[i].paths[p].of == TC_S_SHOP && leaves[i].paths[p].value.state == TC_ASSUMED)
				return true;
	return false;
}

static void note_assumptions(tc_scene *scene, const tc_leaf *leaves, uint32_t count)
{
	static const uint32_t fields[5] = {TC_F_SHOP_TEMPERATURE, TC_F_SHOP_HUMIDITY, TC_F_SHOP_AIR_SPEED, TC_F_SHOP_ROOM,
	    TC_F_SHOP_EXTRACTION};

	for (uint32_t i = 0; i < count; i++)
		for (uint32_t p = 0; p < leaves[i].count; p++) {
			const struct tc_leaf_path *path = &leaves[i].paths[p];
			if (path->value.state != TC_ASSUMED)
				continue;
			for (int k = 0; k < 5; k++)
				if (path->field == fields[k])
					scene->read_shop[k] = true;
			if (path->field == TC_F_SHOP_DEW_POINT || path->field == TC_F_SHOP_MARGIN)
				scene->read_shop[0] = scene->read_shop[1] = true;
		}
}

static bool reasons_of(const tc_scene *scene, const tc_leaf *leaves, uint32_t count, tc_why *why)
{
	tc_reason *reasons = TC_ARRAY(scene->arena, 4 * count + 1, tc_reason);

	if (!reasons)
		return false;
	for (uint32_t i = 0; i < count; i++)
		for (uint32_t p = 0; p < leaves[i].count; p++)
			if (!reason_of(scene, &leaves[i], &leaves[i].paths[p], &reasons[why->reasons++]))
				return false;
	why->reason = reasons;
	return true;
}

/* The leaves that decided; at most LEAVES_MAX. */
static uint32_t explain(tc_question *question, const tc_expr *when, tc_leaf *leaves)
{
	const tc_scene *scene = question->user;
	uint32_t count = tc_explain(question, when, scene->arena, leaves, LEAVES_MAX);
	return count < LEAVES_MAX ? count : LEAVES_MAX;
}

static bool why_of(const tc_scene *scene, const tc_leaf *leaves, uint32_t count, tc_truth truth, tc_why *why)
{
	*why = (tc_why){0};
	if (scene->worker->brief)
		return truth != TC_UNSURE || needs_of(scene, leaves, count, why);
	return reasons_of(scene, leaves, count, why) && (truth != TC_UNSURE || needs_of(scene, leaves, count, why));
}

bool tc_why_of(tc_question *question, const tc_expr *when, tc_truth truth, tc_why *why)
{
	tc_leaf leaves[LEAVES_MAX];
	const uint32_t count = explain(question, when, leaves);
	return why_of(question->user, leaves, count, truth, why);
}

/* With all of the weather said no leaf can rest on what was assumed of it. */
static bool all_weather_said(const tc_model *model)
{
	return model->temperature.state == TC_SAID && model->humidity.state == TC_SAID &&
	       model->air_speed.state == TC_SAID && model->room.state == TC_SAID && model->extraction.state == TC_SAID;
}

bool tc_finding_fill(tc_findings *fs, tc_finding *f, tc_truth truth)
{
	tc_leaf leaves[LEAVES_MAX];
	tc_why why;
	uint32_t count = 0;

	/* nobody wants a brief worker's leaves for themselves */
	if (truth == TC_TRUE && fs->scene->worker->brief && all_weather_said(fs->scene->model))
		tc_bind_names(&fs->question, f->rule->when);
	else
		count = explain(&fs->question, f->rule->when, leaves);
	if (!why_of(fs->scene, leaves, count, truth, &why))
		return false;
	f->reasons = why.reasons;
	f->reason = why.reason;
	f->needs = why.needs;
	f->need = why.need;
	if (truth == TC_TRUE) {
		note_assumptions(fs->scene, leaves, count);
		if (f->verdict == TC_V_ERROR && rests_on_assumed_weather(leaves, count)) {
			f->verdict = f->weight = TC_V_WARNING;
			f->lowered = true;
		}
		if (!fs->scene->worker->brief && !tc_advise(fs, f))
			return false;
	}
	f->message = message_of(fs, f->rule, truth);
	return f->message != NULL;
}
