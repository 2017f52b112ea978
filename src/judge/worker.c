/* What one thread keeps between recipes. */
#include "judge/private.h"

#include <string.h>

static void *piece(const tc_allocator *from, size_t size)
{
	void *at = from->get(from->user, NULL, size ? size : 1);
	if (at)
		memset(at, 0, size);
	return at;
}

static void let_go(const tc_allocator *from, void *at)
{
	if (at)
		from->get(from->user, at, 0);
}

tc_worker *tc_worker_new(const tc_rulebook *rulebook, const tc_allocator *from)
{
	if (!from)
		from = tc_allocator_system();
	tc_worker *w = piece(from, sizeof *w);
	if (!w)
		return NULL;
	w->rulebook = rulebook;
	w->library = tc_rulebook_library(rulebook);
	w->from = from;
	uint32_t entries = tc_library_count(w->library);
	w->finder = tc_finder_new(w->library, from);
	w->kept = tc_kept_new(from);
	w->doors = tc_doors_new(rulebook, from);
	w->patterns = tc_patterns_new(from);
	w->solvent = piece(from, entries * sizeof *w->solvent);
	w->solvent_state = piece(from, entries);
	w->brings = piece(from, entries * tc_caution_words(w->library) * sizeof *w->brings);
	w->brings_known = piece(from, entries);
	if (!w->finder || !w->kept || !w->doors || !w->patterns || !w->solvent || !w->solvent_state || !w->brings ||
	    !w->brings_known) {
		tc_worker_free(w);
		return NULL;
	}
	return w;
}

void tc_worker_free(tc_worker *w)
{
	if (!w)
		return;
	tc_finder_free(w->finder);
	tc_kept_free(w->kept);
	tc_doors_free(w->doors);
	tc_patterns_free(w->patterns);
	let_go(w->from, w->solvent);
	let_go(w->from, w->solvent_state);
	let_go(w->from, w->brings);
	let_go(w->from, w->brings_known);
	w->from->get(w->from->user, w, 0);
}

void tc_worker_brief(tc_worker *worker)
{
	worker->brief = true;
}

tc_finder *tc_worker_finder(tc_worker *worker)
{
	return worker->finder;
}

void tc_worker_kept(const tc_worker *worker, uint64_t *asked, uint64_t *kept)
{
	tc_kept_count(worker->kept, asked, kept);
}

static uint32_t find_rule(const void *user, tc_text id, tc_text *nearest)
{
	const tc_rulebook *rulebook = user;
	const tc_rule *rule = tc_rulebook_find(rulebook, id);
	tc_nearest near = TC_NEAREST(id);

	if (rule)
		return rule->index;
	for (uint32_t i = 0; i < tc_rulebook_rules(rulebook); i++)
		tc_nearest_offer(&near, tc_text_of(tc_rulebook_rule(rulebook, i)->id));
	if (nearest)
		*nearest = near.found;
	return TC_NONE;
}

tc_rule_names tc_rulebook_names(const tc_rulebook *rulebook)
{
	return (tc_rule_names){find_rule, rulebook};
}
