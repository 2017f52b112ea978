/* `tiecoat blank`: an empty recipe. The words that may stand in it come from the rulebook and from the table of steps; only
 * the frame stands here. */
#include "face/book.h"
#include "face/commands.h"
#include "face/sheet.h"
#include "rule/step_key.h"

typedef struct blank {
	const tc_library *library;
	tc_page *page;
	tc_buffer text;
} blank;

/* A comment that wraps, at column `indent`. */
static void comment(blank *b, size_t indent, const char *text)
{
	tc_buffer lines;
	tc_buffer_start(&lines, b->page->out->from);
	tc_page inner = *b->page;
	inner.out = &lines;
	inner.width = inner.width > indent + 24 ? inner.width - (unsigned)indent - 2 : 22;
	inner.color = false;
	tc_page_wrap(&inner, TC_INK_PLAIN, text, 0, 0);
	b->page->work = inner.work;
	for (size_t from = 0; from < lines.length && !lines.failed;) {
		size_t end = from;
		while (lines.at[end] != '\n')
			end++;
		tc_page_blanks(b->page, indent);
		tc_buffer_puts(b->page->out, "# ");
		tc_buffer_add(b->page->out, (tc_text){lines.at + from, end - from});
		tc_page_break(b->page);
		from = end + 1;
	}
	b->page->work.failed = b->page->work.failed || lines.failed;
	tc_buffer_free(&lines);
}

/* A line of the frame, and a comment behind it. */
static void line(blank *b, const char *yaml, const char *remark)
{
	const size_t at = 34;
	tc_page_cell(b->page, TC_INK_PLAIN, yaml, at, false);
	if (*remark)
		tc_page_put(b->page, TC_INK_PLAIN, "# ");
	tc_page_put(b->page, TC_INK_PLAIN, remark);
	tc_page_break(b->page);
}

static const char *taken(blank *b)
{
	return b->text.failed || b->text.length == 0 ? "" : b->text.at;
}

/* `roles: primer, colour …` as a comment. */
static void words(blank *b, size_t indent, const char *lead, const char *vocabulary)
{
	const tc_word_list *list = tc_library_words(b->library, tc_text_of(vocabulary));
	b->text.length = 0;
	tc_buffer_print(&b->text, "%s: ", lead);
	for (uint32_t i = 0; list && i < list->count; i++)
		tc_buffer_print(&b->text, "%s%s", i ? ", " : "", list->words[i]);
	if (list && list->count)
		comment(b, indent, taken(b));
}

/* The ids of all materials of a section, as a comment. */
static void materials(blank *b, size_t indent, const char *lead, tc_section section)
{
	const char *between = "";
	b->text.length = 0;
	tc_buffer_print(&b->text, "%s: ", lead);
	for (uint32_t i = 0; i < tc_library_count(b->library); i++) {
		const tc_entry *entry = tc_library_entry(b->library, i);
		if (entry->is_kind || entry->section != section)
			continue;
		tc_buffer_print(&b->text, "%s%s", between, entry->id);
		between = ", ";
	}
	if (*between)
		comment(b, indent, taken(b));
}

static void head(blank *b)
{
	comment(b, 0,
	    "A recipe: the plan for one model's finish. Fill in what follows the colons, take out what you do not "
	    "need, "
	    "and check it with `tiecoat check FILE`. Quantities have units: 21 °C, 5 min, 18 µm. What a material is, "
	    "`tiecoat look NAME` says.");
	line(b, "recipe:", "the model, and how it shall look in the end");
	line(b, "scale:", "1:48");
	line(b, "workshop:", "left out: what a bench usually has is assumed, and said");
	line(b, "  temperature:", "21 °C");
	line(b, "  humidity:", "55 %");
	line(b, "start:", "2031-05-17 18:30, where days matter");
	line(b, "sessions:", "[mon-fri 19:00 to 22:00, sat 9:00 to 17:00]");
	line(b, "zone:", "Etc/UTC, or where you are: an IANA name");
}

static void parts(blank *b)
{
	line(b, "parts:", "each piece by a name of your own");
	line(b, "  hull:", "");
	line(b, "    substrate:", "what it is made of");
	line(b, "    area:", "410 cm²");
	materials(b, 4, "substrates", TC_SECTION_SUBSTRATES);
}

static void shelf(blank *b)
{
	line(b, "shelf:", "your products by your own labels");
	line(b, "  my primer:", "");
	line(b, "    family:", "what kind of product it is");
	comment(b, 4, "then, where the sheet says it: solids, solvents, recoat, pot_life, mix, flash …");
	materials(b, 4, "families of coats", TC_SECTION_COATINGS);
	materials(b, 4, "fillers", TC_SECTION_FILLERS);
	materials(b, 4, "adhesives", TC_SECTION_ADHESIVES);
	materials(b, 4, "decals", TC_SECTION_DECALS);
}

static void verbs(blank *b)
{
	comment(b, 2, "A step is one of these, with its value, and further keys that qualify it:");
	for (uint32_t verb = 0; tc_step_verb(verb); verb++) {
		const tc_step_row *row = tc_step_verb(verb);
		b->text.length = 0;
		tc_buffer_print(&b->text, "- %s: %s", row->name, row->help);
		comment(b, 2, taken(b));
	}
	comment(b, 2, "Keys of steps:");
	for (uint32_t key = 0; tc_step_key_of(key); key++) {
		const tc_step_row *row = tc_step_key_of(key);
		b->text.length = 0;
		tc_buffer_print(&b->text, "%s: %s", row->name, row->help);
		comment(b, 2, taken(b));
	}
}

static void stack(blank *b)
{
	line(b, "stack:", "the steps, in the order in which they happen");
	line(b, "  - wash:", "the agent");
	line(b, "  - sand:", "the grade");
	line(b, "  - coat:", "a label of the shelf");
	line(b, "    role:", "");
	line(b, "    coats:", "2");
	line(b, "    pass:", "how heavy each is");
	line(b, "    flash:", "5 min, between the coats");
	line(b, "  - wait:", "3 h");
	verbs(b);
	words(b, 2, "roles", "role");
	words(b, 2, "passes", "pass");
	words(b, 2, "effects", "effect");
	materials(b, 2, "agents", TC_SECTION_AGENTS);
	materials(b, 2, "abrasives", TC_SECTION_ABRASIVES);
	materials(b, 2, "thinners and cleaners", TC_SECTION_BLENDS);
}

int tc_run_blank(const tc_options *options)
{
	tc_book book;
	tc_sheet sheet;
	if (!tc_book_open(options, false, &book))
		return TC_EXIT_TROUBLE;
	int status = TC_EXIT_TROUBLE;
	if (tc_sheet_open(options, &sheet)) {
		sheet.page.ascii = false; /* a recipe is UTF-8 wherever it is written */
		blank b = {.library = tc_rulebook_library(book.rulebook), .page = &sheet.page};
		tc_buffer_start(&b.text, NULL);
		head(&b);
		parts(&b);
		shelf(&b);
		stack(&b);
		sheet.page.work.failed = sheet.page.work.failed || b.text.failed;
		tc_buffer_free(&b.text);
		status = tc_sheet_close(&sheet, TC_EXIT_SOUND);
	}
	tc_book_close(&book);
	return status;
}
