/* The small recipe that stands for a trial. What a person wrote goes into it as it is, one thing a line, so that
 * the recipe reader understands and refuses it as in any recipe; a message about a line is then handed on as one
 * about what was asked. */
#include "judge/try_private.h"

#include <string.h>

#define NAME "trial"    /* of the recipe's text, in places */
#define FILM_AGE "10 y" /* of a dried film that is tried: cured as far as it ever will */

typedef struct writing {
	tc_buffer text;
	uint32_t lines;
	const char *about[TC_TRY_LINES_MAX]; /* what each line was asked as */
} writing;

/* --- text ------------------------------------------------------------------------------------------------------- */

static void end_line(writing *w, const char *about)
{
	tc_buffer_char(&w->text, '\n');
	if (w->lines < TC_TRY_LINES_MAX)
		w->about[w->lines++] = about;
}

/* A line end in quotes would be a blank to YAML too; here it would shift the lines. */
static void add_quoted(writing *w, tc_text text)
{
	tc_buffer_char(&w->text, '\'');
	for (size_t i = 0; i < text.length; i++) {
		const char c = text.at[i];
		if (c == '\'')
			tc_buffer_char(&w->text, '\'');
		tc_buffer_char(&w->text, c == '\n' || c == '\r' ? ' ' : c);
	}
	tc_buffer_char(&w->text, '\'');
}

/* `KEY: 'TEXT'`; nothing where nothing was said. */
static void add_key(writing *w, const char *key, const char *text, const char *about)
{
	if (!text)
		return;
	tc_buffer_puts(&w->text, key);
	tc_buffer_puts(&w->text, ": ");
	add_quoted(w, tc_text_of(text));
	end_line(w, about);
}

static void add_line(writing *w, const char *text)
{
	tc_buffer_puts(&w->text, text);
	end_line(w, "the question");
}

/* --- its sections ----------------------------------------------------------------------------------------------- */

static void add_shop(writing *w, const tc_try_ask *ask)
{
	if (!ask->temperature && !ask->humidity && !ask->air_speed)
		return;
	add_line(w, "workshop:");
	add_key(w, "  temperature", ask->temperature, "--temperature");
	add_key(w, "  humidity", ask->humidity, "--humidity");
	add_key(w, "  air_speed", ask->air_speed, "--air-speed");
}

const tc_entry *tc_try_root(const tc_trying *t, tc_section section)
{
	for (uint32_t i = 0; i < tc_library_count(t->worker->library); i++) {
		const tc_entry *entry = tc_library_entry(t->worker->library, i);
		if (entry->is_kind && entry->parent == TC_NONE && entry->sections & 1u << section)
			return entry;
	}
	return NULL;
}

static const char *root_id(const tc_trying *t, tc_section section)
{
	const tc_entry *root = tc_try_root(t, section);
	return root ? root->id : "";
}

static void add_blend(writing *w, const tc_trying *t)
{
	add_line(w, "shelf:");
	tc_buffer_puts(&w->text, "  ");
	add_quoted(w, tc_text_of(t->blend_label));
	tc_buffer_char(&w->text, ':');
	end_line(w, "LIQUID");
	add_key(w, "    family", root_id(t, TC_SECTION_BLENDS), "LIQUID");
	add_line(w, "    solvents:");
	for (uint32_t i = 0; i < t->parts; i++) {
		tc_buffer_print(&w->text, "      %s: ", tc_library_entry(t->worker->library, t->part[i])->id);
		tc_buffer_number(&w->text, t->share[i] * 100, 1, 15);
		tc_buffer_puts(&w->text, " %");
		end_line(w, "LIQUID");
	}
}

static void add_solid(writing *w, const tc_trying *t, bool stressed)
{
	add_line(w, "parts:");
	add_line(w, "  part:");
	if (tc_try_is_part(t)) {
		add_key(w, "    substrate", t->solid_name, "SOLID");
	} else {
		add_key(w, "    substrate", root_id(t, TC_SECTION_SUBSTRATES), "SOLID");
		add_line(w, "    finish:");
		add_key(w, "      coat", t->solid_name, "SOLID");
		add_key(w, "      age", FILM_AGE, "SOLID");
	}
	if (stressed)
		add_key(w, "    stressed", "yes", "--stressed");
}

/* `lacquer-thinner 1:1`, `lacquer-thinner 30 %`, `1:1`: the last word, or the last two, say how much. */
static size_t amount_at(const char *thin)
{
	size_t at = strlen(thin);

	for (int words = 0; words < 2 && at > 0; words++) {
		while (at > 0 && thin[at - 1] == ' ')
			at--;
		const bool share_only = thin[at ? at - 1 : 0] == '%' && (at < 2 || thin[at - 2] == ' ');
		while (at > 0 && thin[at - 1] != ' ')
			at--;
		if (!share_only)
			break;
	}
	return at;
}

static void add_thin(writing *w, const char *thin)
{
	const size_t at = amount_at(thin);
	const tc_text name = tc_text_trim((tc_text){thin, at});
	const bool digit = thin[at] >= '0' && thin[at] <= '9';

	if (!digit) { /* no amount: the reader says that it is missing */
		add_line(w, "    thin:");
		add_key(w, "      with", thin, "--thin");
		return;
	}
	if (name.length == 0) {
		add_key(w, "    thin", thin + at, "--thin");
		return;
	}
	add_line(w, "    thin:");
	tc_buffer_puts(&w->text, "      with: ");
	add_quoted(w, name);
	end_line(w, "--thin");
	add_key(w, strchr(thin + at, ':') ? "      ratio" : "      add", thin + at, "--thin");
}

static const char *verb_of(const tc_trying *t)
{
	const uint32_t sections = t->liquid->sections;

	if (sections & 1u << TC_SECTION_COATINGS)
		return "  - coat";
	if (sections & 1u << TC_SECTION_FILLERS)
		return "  - fill";
	return sections & 1u << TC_SECTION_ADHESIVES ? "  - glue" : "  - wipe";
}

static void add_step(writing *w, const tc_trying *t, tc_try_form form)
{
	const tc_try_ask *ask = t->ask;

	add_line(w, "stack:");
	add_key(w, verb_of(t), t->liquid_name, "LIQUID");
	if (!form.plain_pass)
		add_key(w, "    pass", ask->pass, "--pass");
	if (tc_try_is_paint(t) && !form.plain_pass)
		add_key(w, "    wet_film", ask->wet_film, "--wet-film");
	add_key(w, "    coats", ask->coats, "--coats");
	add_key(w, "    flash", ask->flash, "--flash");
	add_key(w, "    time", ask->time, "--time");
	if (ask->thin)
		add_thin(w, ask->thin);
}

/* --- reading ---------------------------------------------------------------------------------------------------- */

/* Hands out the shelf that was found before. */
static const char *give_shelf(
    void *user, tc_arena *arena, const char *beside, const char *name, size_t *length, const char **reason)
{
	const tc_trying *t = user;
	(void)arena;
	(void)beside;
	(void)name;
	*reason = "it is not there";
	*length = t->shelf_length;
	return t->shelf_bytes;
}

/* A message about a line of the recipe as one about what was asked. */
static void hand_on(tc_trying *t, const writing *w, const tc_diags *from)
{
	for (size_t i = 0; i < tc_diags_count(from); i++) {
		const tc_diag *diag = tc_diags_at(from, i);
		tc_place place = diag->place;
		if (place.file && strcmp(place.file, NAME) == 0)
			place = (tc_place){
			    .file = place.line && place.line <= w->lines ? w->about[place.line - 1] : "the question"};
		tc_diag_add(t->diags, diag->severity, diag->id, place, "%s", diag->message);
	}
}

static tc_status read(tc_trying *t, tc_text text, tc_diags *diags, const tc_recipe **recipe)
{
	const tc_reader shelf = {.read = give_shelf, .user = t};
	const tc_rule_names rules = tc_rulebook_names(t->worker->rulebook);
	tc_source *source = NULL;
	const tc_document *documents = NULL;
	size_t count = 0;
	tc_status status = tc_source_new(t->arena, NAME, text.at, text.length, diags, &source);

	if (status == TC_OK)
		status = tc_yaml_read(t->arena, source, diags, &documents, &count);
	if (status != TC_OK)
		return status;
	return tc_recipe_read(t->arena, t->worker->library, t->worker->finder, &rules, &shelf, source,
	    documents[0].root, false, diags, recipe);
}

static tc_status read_written(tc_trying *t, writing *w, bool speak, const tc_recipe **recipe)
{
	tc_diags *diags = tc_diags_new(t->arena);
	const char *text = w->text.failed ? NULL : tc_arena_text(t->arena, w->text.at, w->text.length);
	tc_status status = TC_NO_MEMORY;

	if (diags && text)
		status = read(t, (tc_text){text, w->text.length}, diags, recipe);
	if (diags && (speak || status == TC_BAD))
		hand_on(t, w, diags);
	tc_buffer_free(&w->text);
	return status;
}

static void begin(tc_trying *t, writing *w)
{
	*w = (writing){.lines = 0};
	tc_buffer_start(&w->text, tc_arena_allocator(t->arena));
	add_line(w, "recipe: a liquid on a solid");
	if (t->parts)
		add_blend(w, t);
	else
		add_key(w, "shelf", t->shelf_path, "--shelf");
}

tc_status tc_try_recipe(tc_trying *t, tc_try_form form, const tc_recipe **recipe)
{
	writing w;

	begin(t, &w);
	add_shop(&w, t->ask);
	add_solid(&w, t, form.stressed);
	add_step(&w, t, form);
	return read_written(t, &w, false, recipe);
}

/* A recipe with nothing but the shelf, for its labels. */
tc_status tc_try_labels(tc_trying *t, const tc_recipe **recipe)
{
	writing w;

	begin(t, &w);
	add_line(&w, "parts:");
	add_line(&w, "  part:");
	add_key(&w, "    substrate", root_id(t, TC_SECTION_SUBSTRATES), "the question");
	add_line(&w, "stack:");
	add_line(&w, "  - wait: 1 s");
	return read_written(t, &w, true, recipe);
}
