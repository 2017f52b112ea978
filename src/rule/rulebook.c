/* A rulebook from files: collection, library, lets, rules. Everything that the rulebook points to lies in its own arena; YAML
 * trees lie in another one, which is thrown away unless the recipes of `shown_by` are wanted. */
#include <string.h>

#include "rule/private.h"

/* --- outranks ------------------------------------------------------------------------------------------------------- */

typedef struct walk {
	tc_rule_reader *r;
	uint8_t *state; /* 0 new, 1 on the way, 2 done */
	uint32_t *next; /* of each rule on the way: which of its `outranks` comes next */
	uint32_t *way, length;
} walk;

static void say_cycle(const walk *w, uint32_t rule)
{
	const tc_rule *rules = w->r->rulebook->rules;
	tc_diag_add(w->r->diags, TC_ERROR, "cycle", rules[rule].place, "`%s` outranks itself by way of `%s`",
	    rules[rule].id, rules[w->way[w->length - 1]].id);
	tc_diag_relate(
	    w->r->diags, rules[w->way[w->length - 1]].place, "`%s` stands here", rules[w->way[w->length - 1]].id);
}

/* Depth first, without recursion: a rulebook may have a thousand rules in a row. */
static void walk_from(walk *w, uint32_t from)
{
	const tc_rule *rules = w->r->rulebook->rules;
	if (w->state[from] || !rules[from].outranks)
		return;
	w->way[w->length++] = from;
	w->state[from] = 1;
	while (w->length) {
		const uint32_t rule = w->way[w->length - 1], other = rules[rule].outranks[w->next[rule]];
		if (other == TC_NONE) {
			w->state[rule] = 2;
			w->length--;
			continue;
		}
		w->next[rule]++;
		if (w->state[other] == 1) {
			say_cycle(w, other);
		} else if (w->state[other] == 0 && rules[other].outranks) {
			w->state[other] = 1;
			w->way[w->length++] = other;
		}
	}
}

static void check_outranks(tc_rule_reader *r)
{
	const uint32_t count = r->rulebook->rule_count;
	walk w = {.r = r,
	    .state = TC_ARRAY(r->scratch, count, uint8_t),
	    .next = TC_ARRAY(r->scratch, count, uint32_t),
	    .way = TC_ARRAY(r->scratch, count, uint32_t)};
	if (!w.state || !w.next || !w.way)
		return;
	for (uint32_t i = 0; i < count; i++)
		walk_from(&w, i);
}

/* --- rules ----------------------------------------------------------------------------------------------------------- */

static bool make_room(tc_rule_reader *r, uint32_t count, tc_rule **rules)
{
	tc_rulebook *book = r->rulebook;
	*rules = TC_ARRAY(r->arena, count, tc_rule);
	book->rules = *rules;
	book->doors = TC_ARRAY(r->arena, count, tc_doors);
	if (r->keep_shown) {
		book->shown = TC_ARRAY(r->scratch, count, const tc_shown_by *);
		book->shown_count = TC_ARRAY(r->scratch, count, uint32_t);
	}
	return book->rules && book->doors && (!r->keep_shown || (book->shown && book->shown_count));
}

static bool read_rules(tc_rule_reader *r)
{
	const size_t all = tc_collection_count(r->collection, TC_SECTION_RULES);
	const uint32_t count = (uint32_t)(all < TC_RULES_MAX ? all : TC_RULES_MAX);
	tc_rule *rules;
	if (all > TC_RULES_MAX)
		tc_diag_add(r->diags, TC_ERROR, "bound",
		    tc_collection_at(r->collection, TC_SECTION_RULES, TC_RULES_MAX)->place,
		    "a rulebook has at most %u rules", TC_RULES_MAX);
	if (!make_room(r, count, &rules))
		return false;
	r->rulebook->rule_count = count;
	for (uint32_t i = 0; i < count; i++) {
		tc_rule_read(r, tc_collection_at(r->collection, TC_SECTION_RULES, i), &rules[i], i);
		if (!rules[i].id || !tc_map_put(&r->rulebook->ids, r->arena, tc_text_of(rules[i].id), i, NULL))
			return false;
	}
	check_outranks(r);
	return tc_bolts_make(r->arena, r->scratch, r->rulebook);
}

static bool keep_changes(tc_rule_reader *r)
{
	const size_t count = tc_collection_changes(r->collection);
	tc_change *changes = TC_ARRAY(r->arena, count, tc_change);
	for (size_t i = 0; changes && i < count; i++) {
		const tc_change *from = tc_collection_change(r->collection, i);
		changes[i].id = tc_keep(r, tc_text_of(from->id));
		changes[i].because = from->because ? tc_keep(r, tc_text_of(from->because)) : NULL;
		changes[i].retired = from->retired;
		changes[i].changed_when = from->changed_when;
		changes[i].place = tc_place_kept(r, from->place);
	}
	r->rulebook->changes = changes;
	r->rulebook->change_count = (uint32_t)count;
	return changes != NULL;
}

/* --- the stamp ------------------------------------------------------------------------------------------------------- */

static uint64_t mix(uint64_t hash, tc_text text)
{
	return (hash ^ tc_text_hash(text)) * 0x9E3779B97F4A7C15u + text.length;
}

/* Of the tables that compiled code refers to by number. */
uint64_t tc_tables_stamp(void)
{
	uint64_t hash = 1;
	tc_field_row room;
	for (uint32_t i = 0; i < TC_FIELD_PROPERTY + TC_PROPERTY_COUNT; i++) {
		const tc_field_row *row = tc_field_row_of(i, &room);
		if (!row)
			continue;
		const int8_t numbers[] = {(int8_t)row->subject, (int8_t)row->type, row->dim.length, row->dim.mass,
		    row->dim.time, row->dim.temperature, row->dim.amount, (int8_t)row->flags, (int8_t)row->unsaid,
		    (int8_t)row->cost};
		hash = mix(hash, tc_text_of(row->name));
		hash = mix(hash, tc_text_of(row->vocabulary));
		hash = mix(hash, tc_text_of(row->arguments));
		hash = mix(hash, (tc_text){(const char *)numbers, sizeof numbers});
	}
	const uint32_t counts[] = {TC_DEFAULT_COUNT, TC_OP_COUNT, TC_SLOT_COUNT, TC_VERB_COUNT, sizeof(tc_entry),
	    sizeof(tc_figure), sizeof(tc_rule), sizeof(tc_expr), sizeof(tc_branch), sizeof(tc_bolt), sizeof(tc_rulebook)};
	return mix(hash, (tc_text){(const char *)counts, sizeof counts});
}

/* The order of files within a layer does not matter, so neither does it here. */
static uint64_t stamp_of(const tc_rulebook_file *files, size_t count)
{
	uint64_t sum = 0;
	for (size_t i = 0; i < count; i++) {
		uint64_t hash = mix(files[i].layer + 1u, tc_text_of(files[i].name));
		sum += mix(hash, (tc_text){files[i].bytes, files[i].length});
	}
	return sum ^ tc_tables_stamp();
}

/* --- loading --------------------------------------------------------------------------------------------------------- */

/* The messages lie in the scratch arena and name its copies of the files' names. Hands them over with the caller's names,
 * which live as long as his files. */
static tc_place place_for_caller(tc_place place, const tc_rulebook_file *files, size_t count)
{
	for (size_t i = 0; place.file && i < count; i++)
		if (strcmp(files[i].name, place.file) == 0) {
			place.file = files[i].name;
			return place;
		}
	place.file = NULL;
	return place;
}

static void hand_over(const tc_diags *own, const tc_rulebook_file *files, size_t count, tc_diags *diags)
{
	for (size_t i = 0; i < tc_diags_count(own); i++) {
		const tc_diag *d = tc_diags_at(own, i);
		tc_diag_add(diags, d->severity, d->id, place_for_caller(d->place, files, count), "%s", d->message);
		if (d->related.file)
			tc_diag_relate(diags, place_for_caller(d->related, files, count), "%s", d->related_message);
	}
}

/* A broken file or library ends the load only where nothing further could be said. */
static tc_status read_all(tc_rule_reader *r, const tc_rulebook_file *files, size_t count)
{
	tc_status status = tc_collect(r->scratch, files, count, r->diags, &r->collection);
	if (status == TC_NO_MEMORY || !r->collection)
		return status;
	status = tc_library_build(r->arena, r->collection, r->diags, &r->library);
	if (status == TC_NO_MEMORY || !r->library)
		return status;
	r->rulebook->library = r->library;
	tc_compiler_start(&r->compiler, r->library, &r->rulebook->lets, r->arena, r->scratch, r->diags);
	if (!tc_lets_read(r) || !read_rules(r) || !keep_changes(r) || r->compiler.no_memory)
		return TC_NO_MEMORY;
	r->rulebook->lets.sources = NULL;
	r->rulebook->stamp = stamp_of(files, count);
	return tc_diags_errors(r->diags) ? TC_BAD : TC_OK;
}

static tc_status load(tc_arena *arena, tc_arena *scratch, const tc_rulebook_file *files, size_t count, bool keep_shown,
    tc_diags *diags, tc_rulebook **rulebook)
{
	tc_rule_reader r = {.arena = arena,
	    .scratch = scratch,
	    .keep_shown = keep_shown,
	    .diags = tc_diags_new(scratch),
	    .rulebook = TC_NEW(arena, tc_rulebook)};
	if (!r.diags || !r.rulebook)
		return TC_NO_MEMORY;
	const tc_status status = read_all(&r, files, count);
	if (status == TC_NO_MEMORY || tc_arena_failed(arena) || tc_arena_failed(scratch))
		return TC_NO_MEMORY;
	hand_over(r.diags, files, count, diags);
	*rulebook = r.rulebook;
	return status;
}

tc_status tc_rulebook_load_into(const tc_allocator *from, size_t first_block, const tc_rulebook_file *files,
    size_t count, bool keep_shown, tc_diags *diags, tc_rulebook **rulebook)
{
	*rulebook = NULL;
	tc_arena *arena = tc_arena_new(from, first_block), *scratch = tc_arena_new(from, 1u << 18);
	tc_rulebook *made = NULL;
	tc_status status = TC_NO_MEMORY;
	if (arena && scratch)
		status = load(arena, scratch, files, count, keep_shown, diags, &made);
	if (status != TC_OK) {
		tc_arena_free(arena);
		tc_arena_free(scratch);
		return status;
	}
	made->owner = arena;
	if (keep_shown)
		made->trees = scratch;
	else
		tc_arena_free(scratch);
	*rulebook = made;
	return TC_OK;
}

tc_status tc_rulebook_load(const tc_allocator *from, const tc_rulebook_file *files, size_t count, bool keep_shown,
    tc_diags *diags, tc_rulebook **rulebook)
{
	return tc_rulebook_load_into(from, 1u << 20, files, count, keep_shown, diags, rulebook);
}

void tc_rulebook_free(tc_rulebook *rulebook)
{
	if (!rulebook)
		return;
	tc_arena_free(rulebook->trees);
	tc_arena_free(rulebook->owner);
}

/* --- questions ------------------------------------------------------------------------------------------------------- */

const tc_library *tc_rulebook_library(const tc_rulebook *rulebook)
{
	return rulebook->library;
}

uint32_t tc_rulebook_rules(const tc_rulebook *rulebook)
{
	return rulebook->rule_count;
}

const tc_rule *tc_rulebook_rule(const tc_rulebook *rulebook, uint32_t index)
{
	return index < rulebook->rule_count ? &rulebook->rules[index] : NULL;
}

const tc_rule *tc_rulebook_find(const tc_rulebook *rulebook, tc_text id)
{
	const uint32_t index = tc_map_find(&rulebook->ids, id);
	return index == TC_MAP_NONE ? NULL : &rulebook->rules[index];
}

uint32_t tc_rulebook_shown(const tc_rulebook *rulebook, uint32_t rule)
{
	return rulebook->shown && rule < rulebook->rule_count ? rulebook->shown_count[rule] : 0;
}

const tc_shown_by *tc_rulebook_shown_at(const tc_rulebook *rulebook, uint32_t rule, uint32_t index)
{
	return index < tc_rulebook_shown(rulebook, rule) ? &rulebook->shown[rule][index] : NULL;
}

uint32_t tc_rulebook_changes(const tc_rulebook *rulebook)
{
	return rulebook->change_count;
}

const tc_change *tc_rulebook_change(const tc_rulebook *rulebook, uint32_t index)
{
	return index < rulebook->change_count ? &rulebook->changes[index] : NULL;
}

uint64_t tc_rulebook_stamp(const tc_rulebook *rulebook)
{
	return rulebook->stamp;
}
