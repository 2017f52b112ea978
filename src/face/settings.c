/* Reading settings. */
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/map.h"
#include "face/files.h"
#include "face/settings.h"
#include "library/say.h"

struct tc_settings_desk {
	const tc_rulebook *rulebook;
	const char *const *rules; /* in force; NULL: settings need not agree */
	uint32_t rules_count;
	tc_arena *arena;
	tc_finder *finder;
	tc_map by_file; /* real path, to number */
	tc_settings **settings;
	uint32_t count, room;
	char *last_folder; /* for which settings were looked for last, and what was found */
	const tc_settings *last;
};

/* --- one file ---------------------------------------------------------------------------------------------------- */

typedef struct reading {
	tc_settings_desk *desk;
	tc_settings *made;
	const tc_source *source;
	tc_diags *diags;
	tc_common_nodes common;
} reading;

static void wrong(const reading *r, const tc_node *node, const char *id, const char *key, const char *such)
{
	tc_diag_add(r->diags, TC_ERROR, id, tc_node_place(r->source, node), "`%s` is %s; write %s", key,
	    node->kind == TC_SCALAR && node->count ? node->text : tc_node_kind_name(node), such);
}

/* Calls `take` for a text, or for each text of a list. */
static void each_text(
    reading *r, const tc_node *node, const char *key, const char *such, void (*take)(reading *, const tc_node *))
{
	const bool list = node->kind == TC_LIST;
	const uint32_t count = list ? node->count : 1;
	for (uint32_t i = 0; i < count; i++) {
		const tc_node *one = list ? node->items[i] : node;
		if (one->kind != TC_SCALAR || tc_text_trim(tc_node_text(one)).length == 0)
			wrong(r, one, "wrong-shape", key, such);
		else
			take(r, one);
	}
}

static void take_glob(reading *r, const tc_node *node)
{
	char trouble[160];
	if (!tc_globs_add((tc_globs *)r->made->exclude, tc_node_text(node), trouble))
		tc_diag_add(r->diags, TC_ERROR, "glob", tc_node_place(r->source, node), "`%s` is no glob: %s",
		    node->text, trouble);
}

static void read_exclude(reading *r, const tc_node *node)
{
	r->made->exclude = tc_globs_new();
	r->made->exclude_node = node;
	if (r->made->exclude)
		each_text(r, node, "exclude", "globs such as [drafts/, '*-old.yaml']", take_glob);
	else
		tc_diag_add(r->diags, TC_ERROR, "file", tc_node_place(r->source, node), "out of memory");
}

static const char *const require_names[TC_REQUIRE_COUNT] = {[TC_REQUIRE_TEMPERATURE] = "temperature",
    [TC_REQUIRE_HUMIDITY] = "humidity",
    [TC_REQUIRE_AIR_SPEED] = "air_speed",
    [TC_REQUIRE_ROOM] = "room",
    [TC_REQUIRE_EXTRACTION] = "extraction",
    [TC_REQUIRE_SCALE] = "scale",
    [TC_REQUIRE_AREA] = "area",
    [TC_REQUIRE_PASS] = "pass"};

const char *tc_require_name(tc_require what)
{
	return require_names[what];
}

static void take_require(reading *r, const tc_node *node)
{
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	for (unsigned i = 0; i < TC_REQUIRE_COUNT; i++) {
		if (tc_node_is(node, require_names[i])) {
			r->made->require |= 1u << i;
			r->made->require_place[i] = tc_node_place(r->source, node);
			return;
		}
		tc_nearest_offer(&nearest, tc_text_of(require_names[i]));
	}
	tc_diag_add(r->diags, TC_ERROR, "unknown-word", tc_node_place(r->source, node),
	    "`%s` cannot be required" TC_NEAR_F, node->text,
	    TC_NEAR(nearest, "; temperature, humidity, air_speed, room, extraction, scale, area and pass can"));
}

static void read_require(reading *r, const tc_node *node)
{
	each_text(r, node, "require", "what must be said, such as [humidity, temperature]", take_require);
}

static void read_at_least(reading *r, const tc_node *node)
{
	static const tc_verdict words[] = {TC_V_NOTE, TC_V_WARNING, TC_V_ERROR};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (tc_node_is(node, tc_verdict_name(words[i]))) {
			r->made->has_at_least = true;
			r->made->at_least = words[i];
			r->made->at_least_place = tc_node_place(r->source, node);
			return;
		}
	wrong(r, node, "unknown-word", "at_least", "note, warning or error");
}

/* The folder of a rulebook, from the folder of the settings. */
static void take_rules(reading *r, const tc_node *node)
{
	const char *slash = strrchr(r->made->file, '/');
	const int folder = slash && node->text[0] != '/' ? (int)(slash - r->made->file) + 1 : 0;
	const char *path = tc_arena_print(r->desk->arena, "%.*s%s", folder, r->made->file, node->text);
	const char **more = TC_ARRAY(r->desk->arena, r->made->rules + 1, const char *);
	if (!path || !more)
		return;
	if (r->made->rules)
		memcpy(more, r->made->rule, r->made->rules * sizeof *more);
	more[r->made->rules++] = path;
	r->made->rule = more;
}

static void read_rules(reading *r, const tc_node *node)
{
	r->made->rules_place = tc_node_place(r->source, node);
	each_text(r, node, "rules", "folders of rulebooks, such as [house-rules]", take_rules);
}

static void read_outermost(reading *r, const tc_node *node)
{
	if (tc_node_is(node, "yes"))
		r->made->outer = NULL;
	else if (!tc_node_is(node, "no"))
		wrong(r, node, "not-a-truth", "outermost", "`yes` or `no`");
}

static void read_workshop(reading *r, const tc_node *node)
{
	r->common.workshop = node;
}

static void read_shelf(reading *r, const tc_node *node)
{
	r->common.shelf = node;
}

static void read_sessions(reading *r, const tc_node *node)
{
	r->common.sessions = node;
}

static void read_zone(reading *r, const tc_node *node)
{
	r->common.zone = node;
}

static void read_words(reading *r, const tc_node *node)
{
	if (node->kind != TC_SCALAR)
		wrong(r, node, "wrong-shape", "settings", "a text that says whose settings these are");
}

static void read_key(reading *r, const tc_node *key, const tc_node *value)
{
	static const struct {
		const char *name;
		void (*read)(reading *, const tc_node *);
	} keys[] = {{"settings", read_words}, {"remark", read_words}, {"outermost", read_outermost},
	    {"rules", read_rules}, {"at_least", read_at_least}, {"workshop", read_workshop}, {"shelf", read_shelf},
	    {"sessions", read_sessions}, {"zone", read_zone}, {"exclude", read_exclude}, {"require", read_require}};
	tc_nearest nearest = TC_NEAREST(tc_node_text(key));
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
		if (tc_node_is(key, keys[i].name)) {
			keys[i].read(r, value);
			return;
		}
		tc_nearest_offer(&nearest, tc_text_of(keys[i].name));
	}
	tc_diag_add(r->diags, TC_ERROR, "unknown-key", tc_node_place(r->source, key),
	    "no key `%s` in settings" TC_NEAR_F, key->text, TC_NEAR(nearest, ""));
}

/* Workshop and shelf need the library, hours come with them: not before there is one. */
static void read_common(reading *r)
{
	tc_settings *made = r->made;
	const tc_common *outer = made->outer ? made->outer->common : NULL;
	const tc_reader reader = {.read = tc_file_beside};
	made->common = outer;
	const tc_common_nodes *said = &r->common;
	if (!r->desk->rulebook || !(said->workshop || said->shelf || said->sessions || said->zone))
		return;
	if (tc_common_read(r->desk->arena, tc_rulebook_library(r->desk->rulebook), r->desk->finder, &reader, r->source,
	        said, outer, r->diags, &made->common) != TC_OK)
		made->common = outer;
}

/* --- rulebooks --------------------------------------------------------------------------------------------------- */

const tc_settings *tc_settings_with_rules(const tc_settings *settings)
{
	while (settings && settings->rules == 0)
		settings = settings->outer;
	return settings;
}

static bool same_file(const char *a, const char *b)
{
	char real_a[PATH_MAX], real_b[PATH_MAX];
	if (strcmp(a, b) == 0)
		return true;
	return realpath(a, real_a) && realpath(b, real_b) && strcmp(real_a, real_b) == 0;
}

static void add_names(tc_buffer *out, const char *const *names, uint32_t count)
{
	for (uint32_t i = 0; i < count; i++)
		tc_buffer_print(out, "%s%s", i ? " and " : "", names[i]);
	if (count == 0)
		tc_buffer_puts(out, "nothing");
}

static bool agrees(const tc_settings_desk *desk, const tc_settings *made)
{
	bool same = made->rules == desk->rules_count;
	for (uint32_t i = 0; same && i < made->rules; i++)
		same = same_file(made->rule[i], desk->rules[i]);
	return same;
}

/* A run has one rulebook: cautions, lists of rules and what stands at the head of a document are of one. */
static void check_rules(const reading *r)
{
	const tc_settings_desk *desk = r->desk;
	const tc_settings *made = r->made;
	tc_buffer text;
	if (!desk->rules || made->rules == 0 || agrees(desk, made))
		return;
	tc_buffer_start(&text, NULL);
	tc_buffer_puts(&text, "these settings lay ");
	add_names(&text, made->rule, made->rules);
	tc_buffer_puts(&text, " over the built-in rulebook, and this run lays ");
	add_names(&text, desk->rules, desk->rules_count);
	tc_buffer_puts(
	    &text, " over it; nothing below is judged: check this folder in a run of its own, or say --rules");
	tc_diag_add(r->diags, TC_ERROR, "other-rulebook", made->rules_place, "%s",
	    text.failed ? "other rulebooks than this run has" : text.at);
	tc_buffer_free(&text);
}

/* --- a file ------------------------------------------------------------------------------------------------------ */

static const char *file_in(tc_arena *arena, const char *folder)
{
	const bool here = strcmp(folder, ".") == 0;
	const char *between = here || folder[strlen(folder) - 1] == '/' ? "" : "/";
	return tc_arena_print(arena, "%s%s%s", here ? "" : folder, between, TC_SETTINGS_NAME);
}

static tc_settings *add(tc_settings_desk *desk, const tc_settings *outer, const char *shown, const char *real)
{
	tc_settings *made = TC_NEW(desk->arena, tc_settings);
	if (!made)
		return NULL;
	*made = (tc_settings){.outer = outer,
	    .file = file_in(desk->arena, shown),
	    .folder = tc_arena_text(desk->arena, real, strlen(real))};
	if (!made->file || !made->folder ||
	    !tc_arena_grow(desk->arena, (void **)&desk->settings, desk->count, &desk->room, sizeof *desk->settings) ||
	    !tc_map_put(&desk->by_file, desk->arena, tc_text_of(made->folder), desk->count, NULL))
		return NULL;
	desk->settings[desk->count++] = made;
	return made;
}

static void read_root(reading *r, const tc_document *documents, size_t count)
{
	if (count == 0 || !documents[0].root)
		return;
	const tc_node *root = documents[0].root;
	if (root->kind != TC_MAP) {
		wrong(r, root, "wrong-shape", "the document", "keys such as `workshop: {humidity: 50 %}`");
		return;
	}
	if (tc_map_get(root, "recipe", NULL))
		tc_diag_add(r->diags, TC_ERROR, "settings", tc_node_place(r->source, root),
		    "this is a recipe, but files of this name hold settings; give it another name");
	else
		for (uint32_t i = 0; i < root->count; i++)
			read_key(r, tc_map_key(root, i), tc_map_value(root, i));
	if (count > 1 && documents[1].root)
		tc_diag_add(r->diags, TC_ERROR, "settings", tc_node_place(r->source, documents[1].root),
		    "a file of settings holds one document");
}

static void read_file(reading *r)
{
	const char *bytes;
	size_t length, count = 0;
	tc_source *source = NULL;
	const tc_document *documents = NULL;
	tc_arena *arena = r->desk->arena;
	if (tc_file_read(arena, r->made->file, r->diags, &bytes, &length) != TC_OK ||
	    tc_source_new(arena, r->made->file, bytes, length, r->diags, &source) != TC_OK)
		return;
	r->source = r->made->source = source;
	if (tc_yaml_read(arena, source, r->diags, &documents, &count) != TC_OK)
		return;
	read_root(r, documents, count);
	read_common(r);
	check_rules(r);
}

const tc_settings *tc_settings_here(
    tc_settings_desk *desk, const tc_settings *outer, const char *shown, const char *real, tc_diags *diags)
{
	const uint32_t known = tc_map_find(&desk->by_file, tc_text_of(real));
	if (known != TC_MAP_NONE)
		return desk->settings[known];
	const size_t before = tc_diags_errors(diags);
	tc_settings *made = add(desk, outer, shown, real);
	if (!made)
		return NULL;
	reading r = {.desk = desk, .made = made, .diags = diags};
	read_file(&r);
	made->bad = tc_diags_errors(diags) > before || (made->outer && made->outer->bad);
	return tc_arena_failed(desk->arena) ? NULL : made;
}

/* --- upward ------------------------------------------------------------------------------------------------------ */

/* The folder above, as messages show it; where `..` of it would lead elsewhere, by its real path. */
static const char *shown_above(tc_arena *arena, const char *shown, const char *real_above)
{
	const char *above;
	char real[PATH_MAX];
	const char *slash = strrchr(shown, '/'), *last = slash ? slash + 1 : shown;
	if (strcmp(last, ".") == 0 && !slash)
		above = "..";
	else if (strcmp(last, "..") == 0 || *last == '\0' || strcmp(last, ".") == 0)
		above = tc_arena_print(arena, "%s%s", shown, *last ? "/.." : "..");
	else
		above = tc_path_folder(arena, shown);
	if (above && realpath(above, real) && strcmp(real, real_above) == 0)
		return above;
	return tc_arena_text(arena, real_above, strlen(real_above));
}

/* Does the file say that nothing further up counts? Looked up before that is read, so that nobody hears of it. */
static bool is_outermost(tc_arena *arena, const char *file)
{
	tc_diags *diags = tc_diags_new(arena);
	const char *bytes;
	size_t length, count = 0;
	tc_source *source;
	const tc_document *documents;
	if (!diags || tc_file_read(arena, file, diags, &bytes, &length) != TC_OK ||
	    tc_source_new(arena, file, bytes, length, diags, &source) != TC_OK ||
	    tc_yaml_read(arena, source, diags, &documents, &count) != TC_OK || count == 0 || !documents[0].root)
		return false;
	const tc_node *value = tc_map_get(documents[0].root, "outermost", NULL);
	return value && tc_node_is(value, "yes");
}

/* The settings in force in a folder: those further up are looked for first, since they lie below. NULL with *failed: out of
 * memory. */
static const tc_settings *find(
    tc_settings_desk *desk, tc_arena *scratch, const char *shown, const char *real, tc_diags *diags, bool *failed)
{
	const char *slash = strrchr(real, '/');
	const tc_settings *outer = NULL;
	const uint32_t known = tc_map_find(&desk->by_file, tc_text_of(real));
	if (known != TC_MAP_NONE)
		return desk->settings[known];
	const char *file = file_in(scratch, shown);
	const bool has_file = file && access(file, F_OK) == 0;
	if (slash && real[1] && !(has_file && is_outermost(scratch, file))) {
		const char *real_above = slash == real ? "/" : tc_arena_text(scratch, real, (size_t)(slash - real));
		const char *above = real_above ? shown_above(scratch, shown, real_above) : NULL;
		if (above)
			outer = find(desk, scratch, above, real_above, diags, failed);
		*failed = *failed || !above;
	}
	*failed = *failed || !file;
	if (*failed || !has_file)
		return outer;
	const tc_settings *made = tc_settings_here(desk, outer, shown, real, diags);
	*failed = !made;
	return made;
}

bool tc_settings_above(
    tc_settings_desk *desk, const char *shown, const char *real, tc_diags *diags, const tc_settings **settings)
{
	*settings = desk->last;
	if (desk->last_folder && strcmp(desk->last_folder, real) == 0)
		return true;
	tc_arena *scratch = tc_arena_new(NULL, 0);
	bool failed = scratch == NULL;
	*settings = failed ? NULL : find(desk, scratch, shown, real, diags, &failed);
	tc_arena_free(scratch);
	free(desk->last_folder);
	desk->last_folder = failed ? NULL : strdup(real);
	desk->last = *settings;
	return !failed;
}

bool tc_settings_of(tc_settings_desk *desk, const char *path, tc_diags *diags, const tc_settings **settings)
{
	struct stat info;
	const bool folder = stat(path, &info) == 0 && S_ISDIR(info.st_mode);
	const char *shown = folder ? path : tc_path_folder(desk->arena, path);
	char real[PATH_MAX];
	*settings = NULL;
	if (!shown)
		return false;
	return !realpath(shown, real) || tc_settings_above(desk, shown, real, diags, settings);
}

/* --- life -------------------------------------------------------------------------------------------------------- */

tc_settings_desk *tc_settings_desk_new(const tc_rulebook *rulebook, const char *const *rules, uint32_t count)
{
	tc_settings_desk *desk = calloc(1, sizeof *desk);
	if (!desk)
		return NULL;
	desk->rulebook = rulebook;
	desk->rules = rules;
	desk->rules_count = count;
	desk->arena = tc_arena_new(NULL, 0);
	desk->finder = rulebook ? tc_finder_new(tc_rulebook_library(rulebook), NULL) : NULL;
	if (desk->arena && (desk->finder || !rulebook))
		return desk;
	tc_settings_desk_free(desk);
	return NULL;
}

void tc_settings_desk_free(tc_settings_desk *desk)
{
	if (!desk)
		return;
	for (uint32_t i = 0; i < desk->count; i++)
		tc_globs_free((tc_globs *)desk->settings[i]->exclude);
	tc_finder_free(desk->finder);
	tc_arena_free(desk->arena);
	free(desk->last_folder);
	free(desk);
}
