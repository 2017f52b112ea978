/* Walking over files. */
#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "face/files.h"
#include "face/folder.h"
#include "face/list.h"
#include "face/walk.h"

#define SCRATCH ((size_t)4096) /* bytes of messages and paths that may gather before they are let go */

/* A folder on the way down. */
typedef struct level {
	tc_folder folder;
	uint32_t next;
	size_t shown, real; /* lengths of its paths */
	tc_globs *ignore;   /* of its ignore file; NULL */
	const tc_settings *settings;
} level;

struct tc_walk {
	const tc_walk_ask *ask;
	uint32_t operand; /* the next path */
	tc_list *list;
	enum { LIST_BEFORE, LIST_READ, LIST_DONE } listing;
	level *levels;
	size_t depth, room;
	tc_buffer shown, real; /* paths of what is looked at: as it was named, and from the root */
	size_t base;           /* length of the real path that --include and --exclude count from */
	tc_arena *arena;       /* of the item at hand */
	tc_diags *diags;
	tc_walk_item file; /* that was come to, where trouble is told first */
	bool pending, no_memory;
};

static void complain(tc_walk *walk, const char *doing, int why)
{
	const char *path = tc_arena_text(walk->arena, walk->shown.at ? walk->shown.at : "", walk->shown.length);
	tc_diag_add(walk->diags, TC_ERROR, "file", (tc_place){.file = path}, "cannot %s: %s", doing, strerror(why));
}

/* --- paths ------------------------------------------------------------------------------------------------------- */

static void set_path(tc_walk *walk, tc_buffer *path, const char *text)
{
	path->length = 0;
	tc_buffer_puts(path, text);
	walk->no_memory = walk->no_memory || path->failed;
}

static void cut(tc_buffer *path, size_t length)
{
	path->length = length;
	path->at[length] = '\0';
}

/* Cuts the path to its folder and adds a name. */
static void enter_name(tc_walk *walk, tc_buffer *path, size_t folder, const char *name)
{
	cut(path, folder);
	if (folder == 0 || path->at[folder - 1] != '/')
		tc_buffer_char(path, '/');
	tc_buffer_puts(path, name);
	walk->no_memory = walk->no_memory || path->failed;
}

/* The real path from a folder of that length on. */
static const char *real_from(const tc_walk *walk, size_t folder)
{
	const char *rest = walk->real.at + folder;
	return *rest == '/' ? rest + 1 : rest;
}

/* The real path of a file by that of its folder: a link is itself, not what it points to. False: errno. */
static bool find_real(tc_walk *walk, const char *path, bool folder)
{
	char real[PATH_MAX], parent[PATH_MAX];
	const char *slash = strrchr(path, '/'), *name = slash ? slash + 1 : path;
	if (folder) {
		if (!realpath(path, real))
			return false;
		set_path(walk, &walk->real, real);
		return true;
	}
	const size_t length = slash ? (size_t)(name - path) : 0;
	if (length >= sizeof parent) {
		errno = ENAMETOOLONG;
		return false;
	}
	memcpy(parent, path, length);
	parent[length] = '\0';
	if (!realpath(length ? parent : ".", real))
		return false;
	set_path(walk, &walk->real, real);
	enter_name(walk, &walk->real, walk->real.length, name);
	return true;
}

/* --- what is passed over ----------------------------------------------------------------------------------------- */

static const tc_settings *settings_of(const tc_walk *walk)
{
	return walk->depth ? walk->levels[walk->depth - 1].settings : NULL;
}

static bool is_excluded(const tc_walk *walk, bool folder)
{
	if (tc_globs_fit(walk->ask->exclude, real_from(walk, walk->base), folder) ||
	    tc_settings_exclude(settings_of(walk), walk->real.at, folder, false))
		return true;
	for (size_t i = 0; i < walk->depth; i++)
		if (tc_globs_fit(walk->levels[i].ignore, real_from(walk, walk->levels[i].real), folder))
			return true;
	return false;
}

static bool is_wanted(const tc_walk *walk, const char *name)
{
	if (tc_globs_any(walk->ask->include))
		return tc_globs_fit(walk->ask->include, real_from(walk, walk->base), false);
	return tc_is_yaml_name(name);
}

/* --- ignore files ------------------------------------------------------------------------------------------------ */

static void add_ignored(tc_walk *walk, level *l, const char *file, uint32_t line, tc_text text)
{
	char trouble[160];
	text = tc_text_trim(text);
	if (text.length == 0 || text.at[0] == '#')
		return;
	if (!tc_globs_add(l->ignore, text, trouble))
		tc_diag_add(walk->diags, TC_ERROR, "glob", (tc_place){.file = file, .line = line, .column = 1},
		    "`%.*s` is no glob: %s", (int)text.length, text.at, trouble);
}

static void read_ignored(tc_walk *walk, level *l)
{
	const char *bytes, *path = tc_arena_print(walk->arena, "%s%s%s", walk->shown.at,
	                       walk->shown.at[walk->shown.length - 1] == '/' ? "" : "/", TC_IGNORE_NAME);
	size_t length;
	l->ignore = tc_globs_new();
	if (!l->ignore || !path) {
		walk->no_memory = true;
		return;
	}
	if (tc_file_read(walk->arena, path, walk->diags, &bytes, &length) != TC_OK)
		return;
	uint32_t line = 1;
	for (size_t from = 0; from < length; line++) {
		const char *end = memchr(bytes + from, '\n', length - from);
		const size_t until = end ? (size_t)(end - bytes) : length;
		add_ignored(walk, l, path, line, (tc_text){bytes + from, until - from});
		from = until + 1;
	}
}

/* --- folders ----------------------------------------------------------------------------------------------------- */

static level *push(tc_walk *walk)
{
	if (walk->depth == walk->room) {
		const size_t room = walk->room ? 2 * walk->room : 16;
		level *more = realloc(walk->levels, room * sizeof *more);
		if (!more) {
			walk->no_memory = true;
			return NULL;
		}
		walk->levels = more;
		walk->room = room;
	}
	walk->levels[walk->depth] = (level){.shown = walk->shown.length, .real = walk->real.length};
	return &walk->levels[walk->depth++];
}

static void pop(tc_walk *walk)
{
	level *l = &walk->levels[--walk->depth];
	tc_folder_free(&l->folder);
	tc_globs_free(l->ignore);
}

/* The folder whose paths are set becomes the innermost level. */
static void open_folder(tc_walk *walk, const tc_settings *settings)
{
	level *l = push(walk);
	if (!l)
		return;
	l->settings = settings;
	const int why = tc_folder_read(&l->folder, walk->shown.at, tc_globs_any(walk->ask->include));
	if (why == ENOMEM)
		walk->no_memory = true;
	else if (why)
		complain(walk, "read this folder", why);
	if (l->folder.has_ignore && !walk->ask->plain)
		read_ignored(walk, l);
}

/* Settings of a folder that was come to from above. */
static void open_settings(tc_walk *walk)
{
	level *l = &walk->levels[walk->depth - 1];
	if (!walk->ask->settings || !l->folder.has_settings)
		return;
	l->settings = tc_settings_here(walk->ask->settings, l->settings, walk->shown.at, walk->real.at, walk->diags);
	if (!l->settings)
		walk->no_memory = true;
	else if (l->settings->bad)
		pop(walk); /* nothing below is judged */
}

/* Settings of a path of the command line or a list: its folder's, or those above. False: they are bad. */
static bool find_settings(tc_walk *walk, bool folder, const tc_settings **settings)
{
	*settings = NULL;
	if (!walk->ask->settings)
		return true;
	const char *shown = folder ? walk->shown.at : tc_path_folder(walk->arena, walk->shown.at);
	const char *real = folder ? walk->real.at : tc_path_folder(walk->arena, walk->real.at);
	if (!shown || !real || !tc_settings_above(walk->ask->settings, shown, real, walk->diags, settings))
		walk->no_memory = true;
	return !walk->no_memory && (!*settings || !(*settings)->bad);
}

/* --- steps ------------------------------------------------------------------------------------------------------- */

static tc_sort sort_by_look(const char *path, bool through)
{
	struct stat info;
	if ((through ? stat : lstat)(path, &info) != 0)
		return errno == ENOENT && through ? TC_SORT_FILE : TC_SORT_UNKNOWN; /* who reads it will say so */
	return S_ISREG(info.st_mode)   ? TC_SORT_FILE
	       : S_ISDIR(info.st_mode) ? TC_SORT_FOLDER
	       : S_ISLNK(info.st_mode) ? TC_SORT_LINK
	                               : TC_SORT_ELSE;
}

/* Files, and links to them; a linked folder is passed over, so that no walk goes in circles. */
static tc_sort sort_entry(tc_walk *walk, tc_sort sort)
{
	if (sort == TC_SORT_UNKNOWN)
		sort = sort_by_look(walk->shown.at, false);
	if (sort == TC_SORT_UNKNOWN)
		complain(walk, "look at this file", errno);
	if (sort != TC_SORT_LINK)
		return sort;
	sort = sort_by_look(walk->shown.at, true);
	return sort == TC_SORT_FOLDER ? TC_SORT_ELSE : sort == TC_SORT_UNKNOWN ? TC_SORT_FILE : sort;
}

/* The next name of the innermost folder. True: it is a file that is wanted. */
static bool step_name(tc_walk *walk)
{
	level *l = &walk->levels[walk->depth - 1];
	if (l->next == l->folder.count) {
		pop(walk);
		return false;
	}
	const char *name = tc_folder_name(&l->folder, l->next);
	const tc_sort as_listed = tc_folder_sort(&l->folder, l->next++);
	enter_name(walk, &walk->shown, l->shown, name);
	enter_name(walk, &walk->real, l->real, name);
	if (walk->no_memory || (as_listed == TC_SORT_LINK && !is_wanted(walk, name)))
		return false;
	const tc_sort sort = sort_entry(walk, as_listed);
	if (sort == TC_SORT_FOLDER && !is_excluded(walk, true)) {
		open_folder(walk, l->settings);
		if (!walk->no_memory)
			open_settings(walk);
	}
	return sort == TC_SORT_FILE && is_wanted(walk, name) && !is_excluded(walk, false);
}

/* A path of the command line. True: it is a file. */
static bool step_path(tc_walk *walk, const char *path, const tc_settings **settings)
{
	struct stat info;
	set_path(walk, &walk->shown, path);
	*settings = NULL;
	if (walk->no_memory)
		return false;
	if (strcmp(path, "-") == 0) {
		set_path(walk, &walk->shown, "./-"); /* its settings are those of the current folder */
		const bool good = find_real(walk, "./-", false) && find_settings(walk, false, settings);
		set_path(walk, &walk->shown, path);
		return good;
	}
	const bool there = stat(path, &info) == 0, folder = there && S_ISDIR(info.st_mode);
	if (!there || !find_real(walk, path, folder)) {
		complain(walk, "read", errno);
		return false;
	}
	walk->base = walk->real.length;
	if (!find_settings(walk, folder, settings))
		return false;
	if (folder && !walk->no_memory)
		open_folder(walk, *settings);
	return !folder;
}

/* Does a file of a list get through --include, --exclude and the settings? The globs are compared with the path as the list
 * has it. */
static bool passes(const tc_walk *walk, const tc_settings *settings)
{
	const char *path = walk->shown.at;
	while (path[0] == '.' && path[1] == '/')
		path += 2;
	if (tc_globs_any(walk->ask->include) && !tc_globs_fit(walk->ask->include, path, false))
		return false;
	return !tc_globs_fit_way(walk->ask->exclude, path) &&
	       !tc_settings_exclude(settings, walk->real.at, false, true);
}

static bool step_list(tc_walk *walk, const tc_settings **settings)
{
	int why = 0;
	const char *path = walk->list ? tc_list_next(walk->list, &why) : NULL;
	if (path)
		return step_path(walk, path, settings) && passes(walk, *settings);
	if (why && why != EINTR) {
		set_path(walk, &walk->shown, walk->ask->list);
		complain(walk, "read this list", why);
	}
	walk->listing = LIST_DONE;
	return false;
}

static void start_list(tc_walk *walk)
{
	walk->list = tc_list_open(walk->ask->list, walk->ask->null);
	walk->listing = walk->list ? LIST_READ : LIST_DONE;
	if (!walk->list) {
		set_path(walk, &walk->shown, walk->ask->list);
		complain(walk, "read this list", errno);
	}
}

/* A step: true if it came to a file. */
static bool step(tc_walk *walk, tc_walk_item *item)
{
	*item = (tc_walk_item){.operand = walk->listing == LIST_READ ? walk->ask->count : walk->operand - 1};
	if (walk->depth) {
		item->settings = settings_of(walk);
		return step_name(walk);
	}
	if (walk->listing == LIST_READ)
		return step_list(walk, &item->settings);
	if (walk->operand == walk->ask->count) {
		item->operand = walk->ask->count;
		start_list(walk);
		return false;
	}
	item->operand = walk->operand;
	item->named = true;
	return step_path(walk, walk->ask->paths[walk->operand++], &item->settings);
}

static bool is_over(const tc_walk *walk)
{
	return walk->depth == 0 && walk->operand == walk->ask->count &&
	       (!walk->ask->list || walk->listing == LIST_DONE);
}

static bool has_trouble(const tc_walk *walk)
{
	return walk->no_memory || !walk->diags || tc_diags_count(walk->diags) > 0 || tc_arena_failed(walk->arena);
}

tc_walked tc_walk_next(tc_walk *walk, tc_walk_item *item)
{
	if (!walk->diags || tc_diags_count(walk->diags) || tc_arena_used(walk->arena) > SCRATCH) {
		tc_arena_reset(walk->arena);
		walk->diags = tc_diags_new(walk->arena);
	}
	while (!walk->pending && !has_trouble(walk) && !is_over(walk))
		walk->pending = step(walk, &walk->file);
	*item = walk->file;
	item->path = walk->shown.at;
	item->real = walk->real.at;
	item->diags = walk->diags;
	if (walk->no_memory || !walk->diags || tc_arena_failed(walk->arena))
		return TC_WALK_NO_MEMORY;
	if (tc_diags_count(walk->diags))
		return TC_WALK_TROUBLE;
	if (!walk->pending)
		return TC_WALK_END;
	walk->pending = false;
	return TC_WALK_FILE;
}

/* --- life -------------------------------------------------------------------------------------------------------- */

tc_walk *tc_walk_new(const tc_walk_ask *ask)
{
	tc_walk *walk = calloc(1, sizeof *walk);
	if (!walk)
		return NULL;
	walk->ask = ask;
	walk->arena = tc_arena_new(NULL, 0);
	tc_buffer_start(&walk->shown, NULL);
	tc_buffer_start(&walk->real, NULL);
	if (walk->arena)
		return walk;
	tc_walk_free(walk);
	return NULL;
}

void tc_walk_free(tc_walk *walk)
{
	if (!walk)
		return;
	while (walk->depth)
		pop(walk);
	free(walk->levels);
	tc_list_close(walk->list);
	tc_buffer_free(&walk->shown);
	tc_buffer_free(&walk->real);
	tc_arena_free(walk->arena);
	free(walk);
}

double tc_walk_share(const tc_walk *walk)
{
	double share = 0, width = 1;
	if (walk->ask->list)
		return -1;
	if (walk->ask->count > 1) {
		width = 1.0 / walk->ask->count;
		share = width * (walk->depth ? walk->operand - 1 : walk->operand);
	}
	for (size_t i = 0; i < walk->depth; i++) {
		const level *l = &walk->levels[i];
		if (l->folder.count == 0)
			break;
		width /= l->folder.count;
		share += width * (l->next ? l->next - 1 : 0);
	}
	return share;
}
