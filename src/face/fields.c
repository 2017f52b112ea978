/* `tiecoat rules --fields`: the table of all that a rule can ask. */
#include "face/figure_text.h"
#include "face/rules.h"

typedef struct listing {
	tc_page *page;
	tc_subject subject;
	tc_buffer text;
} listing;

static const char *unsaid_words(tc_unsaid unsaid)
{
	static const char *const words[] = {[TC_UNSAID_UNKNOWN] = "unknown if unsaid",
	    [TC_UNSAID_NO] = "no if unsaid",
	    [TC_UNSAID_ASSUMED] = "assumed if unsaid",
	    [TC_UNSAID_ABSENT] = "none if unsaid",
	    [TC_UNSAID_COMPUTED] = ""};
	return words[unsaid];
}

static void add_arguments(const char *arguments, tc_buffer *out)
{
	const char *between = "";
	tc_buffer_char(out, '(');
	for (const char *a = arguments; *a; a++) {
		tc_buffer_puts(out, between);
		tc_buffer_puts(out, *a == 'X' ? "x" : *a == 'S' ? "share" : *a == 'L' ? "length" : "[bound]");
		between = ", ";
	}
	tc_buffer_char(out, ')');
}

static void add_field(void *user, uint32_t field, const char *name)
{
	listing *l = user;
	tc_field_row room;
	const tc_field_row *row = tc_field_row_of(field, &room);
	if (row->subject != l->subject || field >= TC_FIELD_PROPERTY)
		return; /* what it has of another subject stands there; properties stand in a table of their own */
	l->text.length = 0;
	tc_buffer_puts(&l->text, name);
	if (row->arguments)
		add_arguments(row->arguments, &l->text);
	tc_page_item(l->page, 2, TC_INK_STRONG, l->text.failed ? "" : l->text.at, 6, "");
	l->text.length = 0;
	tc_type_words(row->type, row->dim, row->vocabulary, &l->text);
	if (row->flags & TC_MAY_BE_ABSENT)
		tc_buffer_puts(&l->text, ", can be absent");
	const char *unsaid = unsaid_words(row->unsaid);
	tc_buffer_print(&l->text, "%s%s: %s", *unsaid ? ", " : "", unsaid, row->help);
	tc_page_item(l->page, 0, TC_INK_PLAIN, "", 6, l->text.failed ? "" : l->text.at);
}

static void add_properties(listing *l)
{
	tc_page_heading(l->page, "Properties of materials: of a layer, an exposed material, a liquid or a product");
	for (unsigned p = 0; p < TC_PROPERTY_COUNT; p++) {
		const tc_property_row *row = tc_property_row_of((tc_property)p);
		tc_page_item(l->page, 2, TC_INK_STRONG, row->key, 6, "");
		l->text.length = 0;
		tc_type_words(row->type, row->dim, row->vocabulary, &l->text);
		tc_buffer_print(&l->text, ": %s", row->help);
		tc_page_item(l->page, 0, TC_INK_PLAIN, "", 6, l->text.failed ? "" : l->text.at);
	}
}

void tc_rules_fields(tc_page *page)
{
	listing l = {.page = page};
	tc_buffer_start(&l.text, NULL);
	tc_page_wrap(page, TC_INK_PLAIN, "What a rule can ask, by what it is asked of.", 0, 0);
	for (unsigned s = 0; s < TC_SUBJECT_COUNT; s++) {
		l.subject = (tc_subject)s;
		tc_page_heading(page, tc_subject_name(l.subject));
		tc_field_each(l.subject, add_field, &l);
	}
	add_properties(&l);
	page->work.failed = page->work.failed || l.text.failed;
	tc_buffer_free(&l.text);
}
