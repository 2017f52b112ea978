/* Cards on one output, or each in a file of its own. */
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "face/card_name.h"
#include "face/card_out.h"
#include "face/complain.h"
#include "face/sheet.h"
#include "report/card.h"
#include "report/card_words.h"

static const char *const endings[] = {[TC_CARD_TEXT] = "txt",
    [TC_CARD_HTML] = "html",
    [TC_CARD_ICAL] = "ics",
    [TC_CARD_CSV] = "csv",
    [TC_CARD_JSON] = "json"};

struct tc_card_out {
	const tc_options *options;
	tc_card_form form;
	double stamp;
	const char *folder; /* NULL: all go to one output */
	tc_output *output;  /* the one output */
	tc_report_options style;
	tc_arena *arena; /* of names and of the index */
	tc_buffer text;  /* of the card at hand; of JSON the first one waits here for a second */
	uint32_t cards;
	tc_card_names names;
	uint32_t rows, room;
	tc_card_row *row;
};

static bool no_memory(void)
{
	tc_complain_memory();
	return false;
}

/* --- the beginning -------------------------------------------------------------------------------------------------- */

static bool holds_several(tc_card_form form)
{
	return form == TC_CARD_TEXT || form == TC_CARD_JSON;
}

static bool is_folder(const char *path)
{
	struct stat info;
	const size_t length = strlen(path);
	return (length && path[length - 1] == '/') || (stat(path, &info) == 0 && S_ISDIR(info.st_mode));
}

static bool make_folder(const char *path)
{
	struct stat info;
	if (mkdir(path, 0777) == 0 || (errno == EEXIST && stat(path, &info) == 0 && S_ISDIR(info.st_mode)))
		return true;
	tc_complain("cannot make the folder %s: %s", path, strerror(errno == EEXIST ? ENOTDIR : errno));
	return false;
}

static bool open_output(tc_card_out *out, bool several)
{
	const char *path = out->options->output;
	if (path && (is_folder(path) || (several && !holds_several(out->form)))) {
		out->folder = path;
		tc_style_of(out->options, NULL, &out->style);
		return make_folder(path);
	}
	if (several && !holds_several(out->form)) {
		tc_complain("several cards of this form need a folder: --output=DIR/");
		return false;
	}
	out->output = tc_output_open(path);
	if (!out->output)
		return false;
	tc_style_of(out->options, out->output, &out->style);
	return true;
}

tc_card_out *tc_card_out_open(const tc_options *options, bool several, double stamp)
{
	tc_card_out *out = calloc(1, sizeof *out);
	if (!out) {
		tc_complain_memory();
		return NULL;
	}
	out->options = options;
	out->form = options->card;
	out->stamp = stamp;
	tc_buffer_start(&out->text, NULL);
	out->arena = out->names.arena = tc_arena_new(NULL, 0);
	if (out->arena ? open_output(out, several) : no_memory())
		return out;
	tc_arena_free(out->arena);
	free(out);
	return NULL;
}

/* --- a card ------------------------------------------------------------------------------------------------------- */

static tc_status write_text(tc_card_out *out, const tc_plan *plan)
{
	tc_page page;
	tc_page_start(&page, &out->text, out->style.width, out->style.color, out->style.ascii);
	tc_card_text(plan, &page);
	out->text.failed = out->text.failed || page.work.failed;
	tc_page_end(&page);
	return out->text.failed ? TC_NO_MEMORY : TC_OK;
}

/* Adds the card to the text. */
static bool write_card(tc_card_out *out, const char *file, const tc_plan *plan)
{
	tc_status status = TC_OK;
	switch (out->form) {
	case TC_CARD_TEXT:
		status = write_text(out, plan);
		break;
	case TC_CARD_HTML:
		tc_card_html(plan, &out->text);
		break;
	case TC_CARD_ICAL:
		status = tc_card_ical(plan, out->stamp, &out->text);
		break;
	case TC_CARD_CSV:
		tc_card_csv(plan, &out->text);
		break;
	case TC_CARD_JSON:
		status = tc_card_json(plan, &out->text);
		break;
	}
	if (status == TC_BAD && !tc_card_has_times(plan))
		tc_complain("%s: there is no timetable, and so no calendar; `tiecoat card %s` says why", file, file);
	else if (status == TC_BAD)
		tc_complain(
		    "%s: a calendar needs to know when the work begins; say --start='2031-05-17 18:30', or `start` in "
		    "the recipe",
		    file);
	else if (status != TC_OK || out->text.failed)
		tc_complain_memory();
	return status == TC_OK && !out->text.failed;
}

/* --- one output --------------------------------------------------------------------------------------------------- */

static bool flush(tc_card_out *out)
{
	return tc_output_write(out->output, &out->text);
}

/* JSON: one card is the document, several are an array of them. */
static bool add_json(tc_card_out *out, const char *file, const tc_plan *plan)
{
	if (out->cards == 0)
		return write_card(out, file, plan);
	tc_buffer first = out->text;
	tc_buffer_start(&out->text, NULL);
	if (out->cards == 1) {
		tc_buffer_puts(&out->text, "[\n");
		tc_buffer_add(&out->text, (tc_text){first.at, first.length});
	}
	tc_buffer_free(&first);
	tc_buffer_puts(&out->text, ",\n");
	return write_card(out, file, plan) && flush(out);
}

static bool add_to_one(tc_card_out *out, const char *file, const tc_plan *plan)
{
	if (out->form == TC_CARD_JSON)
		return add_json(out, file, plan);
	if (out->cards > 0 && !holds_several(out->form)) {
		tc_complain("%s: more than one recipe; several cards of this form need a folder: --output=DIR/", file);
		return false;
	}
	if (out->cards > 0)
		tc_buffer_puts(&out->text, "\n\n");
	if (!write_card(out, file, plan))
		return false;
	return holds_several(out->form) ? flush(out) : true; /* one card alone is written at the end */
}

/* --- a folder ----------------------------------------------------------------------------------------------------- */

static bool write_file(tc_card_out *out, const char *name)
{
	const size_t length = strlen(out->folder);
	const char *between = length && out->folder[length - 1] == '/' ? "" : "/";
	const char *path = name ? tc_arena_print(out->arena, "%s%s%s", out->folder, between, name) : NULL;
	tc_output *output = path ? tc_output_open(path) : NULL;
	if (!path)
		return no_memory();
	if (!output)
		return false;
	const bool good = tc_output_write(output, &out->text);
	return tc_output_close(output, good) && good;
}

static const char *words(tc_card_out *out, void (*add)(const tc_plan *, tc_buffer *), const tc_plan *plan)
{
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	add(plan, &text);
	const char *copy = text.failed ? NULL : tc_arena_text(out->arena, tc_words_text(&text), text.length);
	tc_buffer_free(&text);
	return copy;
}

static void add_done(const tc_plan *plan, tc_buffer *out)
{
	tc_card_moment(plan, isfinite(plan->ready) ? plan->ready : plan->table->end, NAN, out);
}

static tc_card_row *new_row(tc_card_out *out)
{
	if (!tc_arena_grow(out->arena, (void **)&out->row, out->rows, &out->room, sizeof *out->row))
		return NULL;
	return &out->row[out->rows++];
}

static const char *copy_of(tc_card_out *out, const char *text)
{
	return text ? tc_arena_text(out->arena, text, strlen(text)) : NULL;
}

static bool add_row(tc_card_out *out, const char *file, const char *link, const tc_plan *plan)
{
	tc_card_row *row = new_row(out);
	const bool timed = tc_card_has_times(plan);
	if (!row)
		return no_memory();
	*row = (tc_card_row){.title = copy_of(out, plan->recipe->title),
	    .file = copy_of(out, file),
	    .link = link,
	    .verdict = words(out, tc_card_verdict, plan),
	    .weight = tc_card_weight(plan),
	    .read = true,
	    .parts = plan->recipe->parts,
	    .steps = plan->recipe->steps,
	    .lasts = timed ? plan->table->end : NAN,
	    .ready = timed ? words(out, add_done, plan) : NULL,
	    .cost = plan->supply->cost,
	    .currency = copy_of(out, plan->supply->currency)};
	return !tc_arena_failed(out->arena) || no_memory();
}

static bool add_to_folder(tc_card_out *out, const char *file, const tc_plan *plan)
{
	const char *name = tc_card_name(&out->names, file, endings[out->form]);
	if (!name)
		return no_memory();
	if (!write_card(out, file, plan)) {
		out->text.length = 0;
		return false;
	}
	return write_file(out, name) && add_row(out, file, name, plan);
}

/* --- the whole ---------------------------------------------------------------------------------------------------- */

bool tc_card_out_add(tc_card_out *out, const char *file, const tc_plan *plan)
{
	const bool good = out->folder ? add_to_folder(out, file, plan) : add_to_one(out, file, plan);
	out->cards += good;
	return good;
}

bool tc_card_out_unread(tc_card_out *out, const char *file, const char *why)
{
	tc_card_row *row = new_row(out);
	if (!row)
		return no_memory();
	*row = (tc_card_row){.title = copy_of(out, file),
	    .file = copy_of(out, file),
	    .verdict = copy_of(out, why),
	    .weight = TC_V_ERROR,
	    .lasts = NAN,
	    .cost = NAN};
	return !tc_arena_failed(out->arena) || no_memory();
}

static bool write_index(tc_card_out *out)
{
	if (out->form != TC_CARD_HTML)
		return true;
	tc_card_index_html(out->row, out->rows, &out->text);
	return out->text.failed ? no_memory() : write_file(out, "index.html");
}

static bool end_output(tc_card_out *out, bool keep)
{
	if (keep && out->form == TC_CARD_JSON && out->cards)
		tc_buffer_puts(&out->text, out->cards > 1 ? "\n]\n" : "\n");
	bool good = !out->text.failed && (!keep || flush(out));
	if (!tc_output_close(out->output, good && keep))
		good = false;
	return good;
}

bool tc_card_out_close(tc_card_out *out, bool keep)
{
	if (!out)
		return true;
	const bool good = out->folder ? !keep || write_index(out) : end_output(out, keep);
	tc_buffer_free(&out->text);
	tc_arena_free(out->arena);
	free(out);
	return good;
}
