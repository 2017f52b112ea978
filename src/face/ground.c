/* Settings, then the rulebook that they name, then the settings in full. */
#include "face/complain.h"
#include "face/ground.h"

/* What is wrong with the settings is said when they are read again, where it concerns somebody. False: out of memory. */
static bool settle(tc_ground *ground, const char *path)
{
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	const tc_settings *settings = NULL;
	ground->first = tc_settings_desk_new(NULL, NULL, 0);
	const bool good = diags && ground->first && tc_settings_of(ground->first, path, diags, &settings);
	tc_arena_free(arena);
	if (!ground->options.at_least_said)
		tc_settings_at_least(settings, &ground->options.at_least);
	const tc_settings *with_rules = ground->rules_said ? NULL : tc_settings_with_rules(settings);
	if (with_rules) {
		ground->options.rules = (const char **)with_rules->rule;
		ground->options.rules_count = (int)with_rules->rules;
	}
	return good;
}

static bool open_settings(tc_ground *ground)
{
	const char *const *rules = ground->rules_said ? NULL : ground->options.rules;
	ground->settings = tc_settings_desk_new(ground->book.rulebook, rules, (uint32_t)ground->options.rules_count);
	if (!ground->settings)
		tc_complain_memory();
	return ground->settings != NULL;
}

bool tc_ground_open(tc_ground *ground, const tc_options *options, const char *path)
{
	*ground = (tc_ground){.options = *options, .rules_said = options->rules_count > 0};
	bool good = options->no_settings || settle(ground, path);
	if (!good)
		tc_complain_memory();
	good = good && tc_book_open(&ground->options, false, &ground->book) &&
	       (options->no_settings || open_settings(ground));
	if (!good)
		tc_ground_close(ground);
	return good;
}

void tc_ground_close(tc_ground *ground)
{
	tc_settings_desk_free(ground->settings);
	tc_book_close(&ground->book);
	tc_settings_desk_free(ground->first);
	*ground = (tc_ground){0};
}
