/* A recipe becomes a plan and a card in every form: never a crash, a table whose tasks keep order and hands, and forms in which
 * no control character of the recipe is left, whatever it holds. */
#include <stdlib.h>
#include <string.h>

#include "../unit/judge/bench_of.h"
#include "plan/plan.h"
#include "report/card.h"

#define NEVER(what)                                                                                                    \
	do {                                                                                                           \
		if (what)                                                                                              \
			abort();                                                                                       \
	} while (0)

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* What is read once and kept for all inputs. */
static tc_worker *open_worker(const tc_rulebook **rulebook)
{
	static tc_rulebook *book;
	static tc_worker *worker;
	if (!worker) {
		static files f; /* kept: rules point into their bytes */
		f = default_files();
		tc_arena *arena = tc_arena_new(NULL, 0);
		NEVER(tc_rulebook_load(NULL, f.at, f.count, false, tc_diags_new(arena), &book) != TC_OK);
		worker = tc_worker_new(book, NULL);
		NEVER(!worker);
		tc_arena_free(arena);
	}
	*rulebook = book;
	return worker;
}

static void look_at_table(const tc_timetable *table)
{
	for (uint32_t i = 0; i < table->bounds; i++) {
		const tc_bound *b = &table->bound[i];
		NEVER(b->to >= table->tasks || (b->from != TC_NONE && b->from >= table->tasks) || !b->text);
		NEVER(b->windows > TC_NETWORK_WINDOWS_MAX);
	}
	for (uint32_t i = 0; i < table->conflicts; i++)
		NEVER(table->conflict[i] >= table->bounds);
	for (uint32_t i = 0; table->state == TC_TABLE_FOUND && i < table->tasks; i++) {
		const tc_task *t = &table->task[i];
		NEVER(!(t->start >= 0) || !(t->end >= t->start) || !(t->latest >= t->start - 1e-3));
		NEVER(i && (t[-1].start > t->start || (t[-1].attended && t[-1].end > t->start + 1e-3)));
	}
}

/* No control but those that the form itself needs. */
static void look_at_bytes(const tc_buffer *out, const char *allowed)
{
	NEVER(out->failed);
	NEVER(out->length && tc_utf8_bad(out->at, out->length) != out->length);
	for (size_t i = 0; i < out->length; i++) {
		const unsigned char c = (unsigned char)out->at[i];
		NEVER((c < 0x20 && (c == 0 || !strchr(allowed, c))) || c == 0x7F);
	}
}

static void look_at_forms(const tc_plan *plan)
{
	tc_buffer out;
	tc_page page;
	tc_buffer_start(&out, NULL);
	tc_page_start(&page, &out, 80, false, false);
	tc_card_text(plan, &page);
	tc_page_end(&page);
	look_at_bytes(&out, "\n");
	out.length = 0;
	tc_card_html(plan, &out);
	look_at_bytes(&out, "\n\t");
	out.length = 0;
	tc_card_csv(plan, &out);
	look_at_bytes(&out, "\r\n");
	out.length = 0;
	NEVER(tc_card_json(plan, &out) != TC_OK);
	look_at_bytes(&out, "\n");
	out.length = 0;
	if (tc_card_ical(plan, 0, &out) == TC_OK)
		look_at_bytes(&out, "\r\n");
	tc_buffer_free(&out);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	const tc_rulebook *rulebook;
	tc_worker *worker = open_worker(&rulebook);
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	const tc_judgement *judgement = NULL;
	const tc_plan *plan;
	NEVER(!diags);
	char *text = tc_arena_text(arena, (const char *)data, size);
	if (judge_text(worker, arena, rulebook, "fuzz.yaml", text, size, false, &judgement, diags) == TC_OK && judgement) {
		const tc_date today = {2031, 5, 14};
		const tc_status status =
		    tc_plan_make(worker, arena, judgement->model->recipe, NULL, today, diags, &plan);
		NEVER(status != TC_OK && status != TC_BAD);
		if (status == TC_OK) {
			look_at_table(plan->table);
			look_at_forms(plan);
		}
	}
	tc_arena_free(arena);
	return 0;
}
