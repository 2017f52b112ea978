/* Findings as tiecoat.h shows them. */
#include "api/private.h"
#include "report/fix.h"

TC_LIST_OF(tiecoat_finding, new_findings)
TC_LIST_OF(tiecoat_reason, new_reasons)
TC_LIST_OF(tiecoat_need, new_needs)
TC_LIST_OF(tiecoat_remedy, new_remedies)
TC_LIST_OF(tiecoat_edit, new_edits)

_Static_assert(TIECOAT_SAID == (int)TC_FROM_SAID && TIECOAT_ASSUMED == (int)TC_FROM_ASSUMED &&
                   TIECOAT_LIBRARY == (int)TC_FROM_LIBRARY && TIECOAT_COMPUTED == (int)TC_FROM_COMPUTED,
    "origins have the same numbers inside and outside");

static const tiecoat_reason *const *show_reasons(tc_arena *arena, const tc_library *library, const tc_finding *finding)
{
	tiecoat_reason **list = new_reasons(arena, finding->reasons);
	for (uint32_t i = 0; list && i < finding->reasons; i++) {
		const tc_reason *from = &finding->reason[i];
		const tc_origin *origin = &from->from;
		*list[i] = (tiecoat_reason){.fact = from->fact,
		    .about = from->about,
		    .test = from->test,
		    .text = from->text,
		    .has_number = from->has_number,
		    .number = from->has_number ? from->number : 0,
		    .unit = from->has_number ? from->unit : NULL,
		    .origin = (tiecoat_origin)origin->kind,
		    .file = origin->place.file,
		    .line = origin->place.line,
		    .column = origin->place.column,
		    .entry = origin->entry,
		    .source = tc_show_basis(arena, library, origin->basis),
		    .from = origin->of};
	}
	return (const tiecoat_reason *const *)list;
}

static const tiecoat_need *const *show_needs(tc_arena *arena, const tc_finding *finding)
{
	tiecoat_need **list = new_needs(arena, finding->needs);
	for (uint32_t i = 0; list && i < finding->needs; i++) {
		const tc_need *from = &finding->need[i];
		*list[i] = (tiecoat_need){.datum = from->datum,
		    .where = from->where,
		    .file = from->place.file,
		    .line = from->place.line,
		    .column = from->place.column};
	}
	return (const tiecoat_need *const *)list;
}

static const tiecoat_edit *const *show_edits(tc_arena *arena, const tc_fix *fix)
{
	tiecoat_edit **list = new_edits(arena, fix->edits);
	for (uint32_t i = 0; list && i < fix->edits; i++)
		*list[i] = (tiecoat_edit){.from_line = fix->edit[i].from.line,
		    .from_column = fix->edit[i].from.column,
		    .to_line = fix->edit[i].to.line,
		    .to_column = fix->edit[i].to.column,
		    .text = fix->edit[i].text};
	return (const tiecoat_edit *const *)list;
}

static const tiecoat_remedy *const *show_remedies(
    tc_arena *arena, const tc_judgement *judgement, const tc_finding *finding)
{
	tiecoat_remedy **list = new_remedies(arena, finding->advices);
	for (uint32_t i = 0; list && i < finding->advices; i++) {
		const tc_advice *from = &finding->advice[i];
		tc_fix fix;
		*list[i] = (tiecoat_remedy){.text = from->text, .yaml = from->yaml, .seconds = from->amount};
		if (!tc_fix_make(arena, judgement, finding, from, &fix))
			continue;
		list[i]->edits = fix.edits;
		list[i]->edit = show_edits(arena, &fix);
	}
	return (const tiecoat_remedy *const *)list;
}

static void show_sources(tc_arena *arena, const tc_library *library, tiecoat_finding *shown, const tc_rule *rule)
{
	while (rule->bases && rule->bases[shown->sources])
		shown->sources++;
	const char **list = TC_ARRAY(arena, shown->sources, const char *);
	for (size_t i = 0; list && i < shown->sources; i++)
		list[i] = tc_show_basis(arena, library, rule->bases[i]);
	shown->source = list;
}

static const char *const *show_outranked(tc_arena *arena, const tc_finding *finding)
{
	const char **list = TC_ARRAY(arena, finding->outranked, const char *);
	for (uint32_t i = 0; list && i < finding->outranked; i++)
		list[i] = finding->outrank[i]->id;
	return list;
}

const tiecoat_acceptance *tc_show_acceptance(tc_arena *arena, const struct tc_accept *accept)
{
	tiecoat_acceptance *shown = TC_NEW(arena, tiecoat_acceptance);
	if (shown)
		*shown = (tiecoat_acceptance){.name = accept->name,
		    .because = accept->because,
		    .line = accept->place.line,
		    .column = accept->place.column};
	return shown;
}

static void show_finding(tc_arena *arena, const tc_judgement *j, const tc_finding *from, tiecoat_finding *to)
{
	const tc_library *library = tc_rulebook_library(j->rulebook);
	*to = (tiecoat_finding){.rule = from->rule->id,
	    .about = from->rule->about,
	    .verdict = (tiecoat_verdict)from->verdict,
	    .weight = (tiecoat_verdict)from->weight,
	    .lowered = from->lowered,
	    .defect = from->defect,
	    .part = from->part == TC_NONE ? NULL : j->model->part[from->part].written->name,
	    .step = from->step,
	    .file = from->place.file,
	    .line = from->place.line,
	    .column = from->place.column,
	    .message = from->message,
	    .related_file = from->related.file,
	    .related_line = from->related.line,
	    .related_column = from->related.column,
	    .related_text = from->related.file ? from->related_text : NULL,
	    .reasons = from->reasons,
	    .reason = show_reasons(arena, library, from),
	    .needs = from->needs,
	    .need = show_needs(arena, from),
	    .remedies = from->advices,
	    .remedy = show_remedies(arena, j, from),
	    .outranked = from->outranked,
	    .outranks = show_outranked(arena, from),
	    .acceptance = from->accept ? tc_show_acceptance(arena, from->accept) : NULL};
	show_sources(arena, library, to, from->rule);
}

const tiecoat_finding *const *tc_show_findings(tc_arena *arena, const tc_judgement *judgement)
{
	tiecoat_finding **list = new_findings(arena, judgement->findings);
	for (uint32_t i = 0; list && i < judgement->findings; i++)
		show_finding(arena, judgement, &judgement->finding[i], list[i]);
	return (const tiecoat_finding *const *)list;
}
