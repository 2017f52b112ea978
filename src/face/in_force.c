/* `tiecoat settings`: what is in force for a file or folder, and which file or option says so. */
#include <string.h>

#include "face/commands.h"
#include "face/complain.h"
#include "face/ground.h"
#include "face/in_force.h"
#include "face/sheet.h"
#include "report/words.h"

#define VALUE_AT 16u

typedef struct in_force {
	tc_ground ground;
	const tc_settings *settings; /* of the path at hand; NULL: none */
	tc_sheet sheet;
	tc_page *page;
	tc_buffer text;
	tc_json json;
	json_t *paths; /* NULL: text is asked for */
} in_force;

/* Adds a row: what was gathered, then where it comes from. */
static void add_row(in_force *f, const char *key)
{
	tc_page_item(f->page, 2, TC_INK_PLAIN, key, VALUE_AT, tc_words_text(&f->text));
	f->text.length = 0;
}

static void add_place(in_force *f, tc_place place)
{
	tc_buffer_puts(&f->text, "  (");
	tc_words_place(place, NULL, &f->text);
	tc_buffer_puts(&f->text, ")");
}

static void add_files(in_force *f)
{
	const char *between = "";
	for (const tc_settings *s = f->settings; s; s = s->outer) {
		tc_buffer_print(&f->text, "%s%s", between, s->file);
		between = ", then ";
	}
	if (!f->settings)
		tc_buffer_puts(&f->text, "none");
	add_row(f, "files");
}

static void add_at_least(in_force *f)
{
	const tc_settings *s = f->settings;
	while (s && !s->has_at_least)
		s = s->outer;
	tc_buffer_puts(&f->text, tc_verdict_name(s ? s->at_least : TC_V_ERROR));
	if (s)
		add_place(f, s->at_least_place);
	else
		tc_buffer_puts(&f->text, "  (built in)");
	add_row(f, "at_least");
}

static void add_rules(in_force *f)
{
	const tc_settings *s = tc_settings_with_rules(f->settings);
	tc_buffer_puts(&f->text, "the built-in rulebook");
	for (int i = 0; i < f->ground.options.rules_count; i++)
		tc_buffer_print(&f->text, ", over it %s", f->ground.options.rules[i]);
	if (f->ground.rules_said)
		tc_buffer_puts(&f->text, "  (--rules)");
	else if (s)
		add_place(f, s->rules_place);
	add_row(f, "rules");
}

/* --- workshop ---------------------------------------------------------------------------------------------------- */

static void add_figure(in_force *f, tc_shop_figure which, tc_value said, tc_default by_rulebook)
{
	const tc_library *library = tc_rulebook_library(f->ground.book.rulebook);
	const tc_property_row *row = tc_default_row_of(by_rulebook);
	const tc_figure *figure = tc_library_default(library, by_rulebook);
	const bool known = tc_known(said);
	const tc_value value = known ? said : figure->value;
	if (tc_known(value))
		tc_quantity_print(&f->text, row->type, row->dim, value.number, 3, NULL);
	else
		tc_buffer_puts(&f->text, "none");
	if (known) {
		add_place(f, f->settings->common->shop.said[which]);
	} else {
		tc_buffer_puts(&f->text, "  (rulebook: ");
		tc_words_basis_short(library, figure->basis, &f->text);
		tc_buffer_puts(&f->text, ")");
	}
	add_row(f, row->key);
}

static void add_workshop(in_force *f)
{
	const tc_common *common = f->settings ? f->settings->common : NULL;
	const tc_value silent = tc_absent(TC_T_NUMBER);
	const tc_shop *shop = common ? &common->shop : NULL;
	const struct {
		tc_shop_figure figure;
		tc_value value;
		tc_default by_rulebook;
	} rows[] = {{TC_SHOP_TEMPERATURE, shop ? shop->temperature : silent, TC_D_TEMPERATURE},
	    {TC_SHOP_HUMIDITY, shop ? shop->humidity : silent, TC_D_HUMIDITY},
	    {TC_SHOP_AIR_SPEED, shop ? shop->air_speed : silent, TC_D_AIR_SPEED},
	    {TC_SHOP_ROOM, shop ? shop->room : silent, TC_D_ROOM},
	    {TC_SHOP_EXTRACTION, shop ? shop->extraction : silent, TC_D_EXTRACTION}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		add_figure(f, rows[i].figure, rows[i].value, rows[i].by_rulebook);
	if (shop && shop->dusts) {
		tc_buffer_puts(&f->text, "yes");
		add_row(f, "habits: dust");
	}
	if (shop && shop->dries) {
		tc_buffer_puts(&f->text, "yes");
		add_row(f, "habits: dry");
	}
}

/* --- hours ------------------------------------------------------------------------------------------------------- */

static void add_clock_time(in_force *f, unsigned minute)
{
	tc_buffer_print(&f->text, "%02u:%02u", minute / 60, minute % 60);
}

static void add_from_to(in_force *f, unsigned from, unsigned to)
{
	add_clock_time(f, from);
	tc_buffer_puts(&f->text, " to ");
	add_clock_time(f, to > TC_DAY_MINUTES ? to - TC_DAY_MINUTES : to);
}

/* Days of the week: ranges of three and more by their ends. */
static void add_days(in_force *f, uint8_t days)
{
	static const char names[7][4] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
	const char *between = "";
	for (unsigned day = 0; day < 7; day++) {
		unsigned last = day;
		while (last < 6 && days >> (last + 1) & 1)
			last++;
		if (!(days >> day & 1))
			continue;
		last = last - day < 2 ? day : last;
		tc_buffer_print(&f->text, "%s%s", between, names[day]);
		if (last > day)
			tc_buffer_print(&f->text, "-%s", names[last]);
		between = ", ";
		day = last;
	}
}

/* Of several rows of one key the first names it and says where it comes from. */
static void add_hours_row(in_force *f, bool first)
{
	if (first)
		add_place(f, f->settings->common->times.hours.place);
	add_row(f, first ? "sessions" : "");
}

static void add_sessions(in_force *f)
{
	const tc_hours *hours = f->settings && f->settings->common ? &f->settings->common->times.hours : NULL;
	for (uint32_t i = 0; hours && i < hours->weeklies; i++) {
		const tc_weekly *w = &hours->weekly[i];
		add_days(f, w->days);
		tc_buffer_char(&f->text, ' ');
		add_from_to(f, w->from, w->to);
		add_hours_row(f, i == 0);
	}
	for (uint32_t i = 0; hours && i < hours->dateds; i++) {
		const tc_dated *d = &hours->dated[i];
		tc_buffer_print(&f->text, "%04d-%02u-%02u ", (int)d->date.year, d->date.month, d->date.day);
		if (d->to > 0)
			add_from_to(f, d->from, d->to);
		else
			tc_buffer_puts(&f->text, "none");
		add_hours_row(f, i == 0 && hours->weeklies == 0);
	}
}

static void add_zone(in_force *f)
{
	const tc_times *times = f->settings && f->settings->common ? &f->settings->common->times : NULL;
	if (!times || !times->zone)
		return;
	tc_buffer_puts(&f->text, times->zone);
	add_place(f, times->zone_place);
	add_row(f, "zone");
}

/* --- lists ------------------------------------------------------------------------------------------------------- */

static void add_shelf(in_force *f)
{
	const tc_common *common = f->settings ? f->settings->common : NULL;
	for (uint32_t i = 0; common && i < common->products; i++) {
		tc_buffer_print(&f->text, "%s: %s", common->product[i]->label, common->product[i]->family->id);
		add_place(f, common->product[i]->place);
		add_row(f, i ? "" : "shelf");
	}
}

static void add_required(in_force *f)
{
	const char *key = "require";
	for (const tc_settings *s = f->settings; s; s = s->outer)
		for (unsigned i = 0; i < TC_REQUIRE_COUNT; i++) {
			if (!(s->require >> i & 1))
				continue;
			tc_buffer_puts(&f->text, tc_require_name((tc_require)i));
			add_place(f, s->require_place[i]);
			add_row(f, key);
			key = "";
		}
}

static void add_excluded(in_force *f)
{
	const char *key = "exclude";
	for (const tc_settings *s = f->settings; s; s = s->outer) {
		const tc_node *node = s->exclude_node;
		const uint32_t count = !node ? 0 : node->kind == TC_LIST ? node->count : 1;
		for (uint32_t i = 0; i < count; i++) {
			const tc_node *glob = node->kind == TC_LIST ? node->items[i] : node;
			tc_buffer_puts(&f->text, glob->text);
			add_place(f, tc_node_place(s->source, glob));
			add_row(f, key);
			key = "";
		}
	}
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

static void add_path(in_force *f, const char *path)
{
	tc_sheet_title(&f->sheet, path);
	add_files(f);
	add_at_least(f);
	add_rules(f);
	add_workshop(f);
	add_sessions(f);
	add_zone(f);
	add_shelf(f);
	add_required(f);
	add_excluded(f);
}

/* The same as JSON, or as text. */
static void add(in_force *f, const char *path)
{
	const tc_in_force at = {path, &f->ground, f->settings};
	if (f->paths)
		tc_in_force_push(&f->json, f->paths, &at);
	else
		add_path(f, path);
}

/* False: the settings have errors, or memory ran out; that was said. */
static bool tell(in_force *f, const char *path)
{
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	bool good = diags && tc_settings_of(f->ground.settings, path, diags, &f->settings);
	if (!good) {
		tc_complain_memory();
	} else {
		tc_diags_sort(diags);
		tc_complain_diags(diags);
		good = !f->settings || !f->settings->bad;
	}
	tc_arena_free(arena);
	if (good)
		add(f, path);
	return good;
}

static void tell_all(in_force *f, const char *const *paths, int count, bool *good)
{
	const bool json = f->ground.options.format == TC_FORMAT_JSON;
	f->paths = json ? tc_json_array(&f->json) : NULL;
	for (int i = 0; i < count; i++)
		*good = tell(f, paths[i]) && *good;
	if (json)
		tc_in_force_write(&f->json, f->ground.book.rulebook, f->paths, &f->sheet.text);
	f->sheet.text.failed = f->sheet.text.failed || f->json.failed;
}

int tc_run_settings(const tc_options *options)
{
	static const char *const here[] = {"."};
	const char *const *paths = options->operands ? (const char *const *)options->operand : here;
	const int count = options->operands ? options->operands : 1;
	in_force f = {0};
	bool good = true;
	if (!tc_ground_open(&f.ground, options, paths[0]))
		return TC_EXIT_TROUBLE;
	if (!tc_sheet_open(options, &f.sheet)) {
		tc_ground_close(&f.ground);
		return TC_EXIT_TROUBLE;
	}
	f.page = &f.sheet.page;
	tc_buffer_start(&f.text, NULL);
	tell_all(&f, paths, count, &good);
	f.sheet.page.work.failed = f.sheet.page.work.failed || f.text.failed;
	tc_buffer_free(&f.text);
	const int status = tc_sheet_close(&f.sheet, good ? TC_EXIT_SOUND : TC_EXIT_TROUBLE);
	tc_ground_close(&f.ground);
	return status;
}
