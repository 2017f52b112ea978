/* Messages, cautions, assumptions and a recipe as a whole, as tiecoat.h shows them. */
#include "api/private.h"
#include "report/words.h"

TC_LIST_OF(tiecoat_message, new_messages)
TC_LIST_OF(tiecoat_caution, new_cautions)
TC_LIST_OF(tiecoat_assumption, new_assumptions)

_Static_assert(TIECOAT_MESSAGE_NOTE == (int)TC_NOTE && TIECOAT_MESSAGE_WARNING == (int)TC_WARNING &&
                   TIECOAT_MESSAGE_ERROR == (int)TC_ERROR,
    "severities have the same numbers inside and outside");

void tc_show_messages(tc_arena *arena, tc_diags *diags, tc_messages *messages)
{
	tc_diags_sort(diags);
	messages->count = tc_diags_count(diags);
	tiecoat_message **list = new_messages(arena, messages->count);
	for (size_t i = 0; list && i < messages->count; i++) {
		const tc_diag *diag = tc_diags_at(diags, i);
		*list[i] = (tiecoat_message){.severity = (tiecoat_severity)diag->severity,
		    .id = diag->id,
		    .file = diag->place.file,
		    .line = diag->place.line,
		    .column = diag->place.column,
		    .text = diag->message,
		    .related_file = diag->related.file,
		    .related_line = diag->related.line,
		    .related_column = diag->related.column,
		    .related_text = diag->related_message};
	}
	messages->at = (const tiecoat_message *const *)list;
}

const char *tc_show_basis(tc_arena *arena, const tc_library *library, const tc_basis *basis)
{
	tc_buffer text;
	if (!basis)
		return NULL;
	tc_buffer_start(&text, tc_arena_allocator(arena));
	tc_words_basis(library, basis, &text);
	/* a buffer without memory is an arena without memory */
	const char *shown = text.failed ? tc_arena_get(arena, SIZE_MAX) : tc_arena_text(arena, text.at, text.length);
	tc_buffer_free(&text);
	return shown;
}

static size_t count_codes(const char *const *codes)
{
	size_t count = 0;
	while (codes && codes[count])
		count++;
	return count;
}

const tiecoat_caution *const *tc_show_cautions(tc_arena *arena, const tc_caution_use *use, size_t count)
{
	tiecoat_caution **list = new_cautions(arena, count);
	for (size_t i = 0; list && i < count; i++)
		*list[i] = (tiecoat_caution){.id = use[i].caution->id,
		    .text = use[i].caution->says,
		    .codes = count_codes(use[i].codes),
		    .code = use[i].codes,
		    .steps = use[i].steps,
		    .step = use[i].step,
		    .because = use[i].because};
	return (const tiecoat_caution *const *)list;
}

static const tiecoat_assumption *const *show_assumptions(tc_arena *arena, const tc_judgement *judgement)
{
	const tc_library *library = tc_rulebook_library(judgement->rulebook);
	tiecoat_assumption **list = new_assumptions(arena, judgement->assumptions);
	for (uint32_t i = 0; list && i < judgement->assumptions; i++) {
		const tc_assumption *from = &judgement->assumption[i];
		*list[i] = (tiecoat_assumption){.what = from->what,
		    .text = from->text,
		    .source = tc_show_basis(arena, library, from->basis),
		    .mattered = from->mattered};
	}
	return (const tiecoat_assumption *const *)list;
}

static const tiecoat_acceptance *const *show_unused(tc_arena *arena, const tc_judgement *judgement)
{
	const tiecoat_acceptance **list = TC_ARRAY(arena, judgement->unused, const tiecoat_acceptance *);
	for (uint32_t i = 0; list && i < judgement->unused; i++)
		list[i] = tc_show_acceptance(arena, judgement->unused_accept[i]);
	return list;
}

const tiecoat_recipe *tc_show_recipe(tc_arena *arena, const tc_judgement *judgement)
{
	const tc_recipe *recipe = judgement->model->recipe;
	tiecoat_recipe *shown = TC_NEW(arena, tiecoat_recipe);
	if (shown)
		*shown = (tiecoat_recipe){.title = recipe->title,
		    .line = recipe->place.line,
		    .column = recipe->place.column,
		    .judged = !judgement->bounded,
		    .errors = judgement->summary.errors,
		    .warnings = judgement->summary.warnings,
		    .notes = judgement->summary.notes,
		    .undecided = judgement->summary.undecided,
		    .accepted = judgement->summary.accepted,
		    .findings = judgement->findings,
		    .finding = tc_show_findings(arena, judgement),
		    .cautions = judgement->cautions,
		    .caution = tc_show_cautions(arena, judgement->caution, judgement->cautions),
		    .assumptions = judgement->assumptions,
		    .assumption = show_assumptions(arena, judgement),
		    .unused = judgement->unused,
		    .unused_acceptance = show_unused(arena, judgement)};
	return shown;
}
