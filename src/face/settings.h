/* Settings of a collection: files called tiecoat-settings.yaml, each in force in its folder and below it. Of several on the
 * way up the nearest one that says a thing wins; what they exclude and require adds up. */
#ifndef TC_FACE_SETTINGS_H
#define TC_FACE_SETTINGS_H

#include "face/globs.h"
#include "read/yaml.h"
#include "rule/rulebook.h"
#include "stack/common.h"

#define TC_SETTINGS_NAME "tiecoat-settings.yaml"

/* What can be required, as bits 1 << TC_REQUIRE_… */
typedef enum tc_require {
	TC_REQUIRE_TEMPERATURE,
	TC_REQUIRE_HUMIDITY,
	TC_REQUIRE_AIR_SPEED,
	TC_REQUIRE_ROOM,
	TC_REQUIRE_EXTRACTION,
	TC_REQUIRE_SCALE,
	TC_REQUIRE_AREA,
	TC_REQUIRE_PASS,
	TC_REQUIRE_COUNT
} tc_require;
const char *tc_require_name(tc_require what);

/* One file. */
typedef struct tc_settings tc_settings;
struct tc_settings {
	const tc_settings *outer; /* the next one further up; NULL */
	const char *file;         /* as messages show it */
	const char *folder;       /* the real path of its folder */
	bool bad;                 /* it has errors: nothing that it governs is judged */
	const tc_globs *exclude;  /* NULL: none */
	const tc_node *exclude_node;
	const tc_source *source; /* NULL: it could not be read */
	bool has_at_least;
	tc_verdict at_least;
	tc_place at_least_place;
	uint32_t rules; /* folders of rulebooks, lowest first */
	const char *const *rule;
	tc_place rules_place;
	uint32_t require; /* bits */
	tc_place require_place[TC_REQUIRE_COUNT];
	const tc_common *common; /* workshop, shelf, sessions and zone of this and all further up; NULL: nobody says any */
};

/* Reads settings and keeps them until it is freed. */
typedef struct tc_settings_desk tc_settings_desk;

/* `rulebook` NULL: only `rules` and `at_least` are understood, and nothing is complained of. `rules`: the folders that are in
 * force, with which settings must agree; NULL: they need not. NULL: out of memory. */
tc_settings_desk *tc_settings_desk_new(const tc_rulebook *rulebook, const char *const *rules, uint32_t count);
void tc_settings_desk_free(tc_settings_desk *desk);

/* The settings of the file in this folder, lying over `outer`. `shown`: the folder as messages show it; `real`: its real
 * path. A file that was read before is not read or complained of again. NULL: out of memory. */
const tc_settings *tc_settings_here(
    tc_settings_desk *desk, const tc_settings *outer, const char *shown, const char *real, tc_diags *diags);
/* The settings in force in a folder, looked for in it and upward. False: out of memory. */
bool tc_settings_above(
    tc_settings_desk *desk, const char *shown, const char *real, tc_diags *diags, const tc_settings **settings);

/* The same for a path as it is named: a folder, or a file in its folder; what cannot be looked at has none. */
bool tc_settings_of(tc_settings_desk *desk, const char *path, tc_diags *diags, const tc_settings **settings);

/* The threshold, and the folders of rulebooks, lowest first, that are in force; the place of what says it. */
bool tc_settings_at_least(const tc_settings *settings, tc_verdict *at_least);
const tc_settings *tc_settings_with_rules(const tc_settings *settings); /* NULL: none says any */

/* Does one of the settings exclude this file or folder (its real path)? `way`: or a folder on the way from the settings. */
bool tc_settings_exclude(const tc_settings *settings, const char *real, bool folder, bool way);

/* Complains of what the settings require and the recipe does not say. */
void tc_settings_check(const tc_settings *settings, const tc_recipe *recipe, tc_diags *diags);

#endif
