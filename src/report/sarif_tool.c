/* What a SARIF log says of the program: its rules, its cautions, its words for defects. */
#include <stdio.h>
#include <string.h>

#include "report/json_parts.h"
#include "report/sarif.h"
#include "report/words.h"

#ifndef TC_VERSION
#define TC_VERSION "0.1.0"
#endif

/* A plain text and one in Markdown, written together. */
typedef struct prose {
	tc_buffer text, markdown;
} prose;

/* Text with what Markdown would take for marks made plain. */
static void put_escaped(const char *text, tc_buffer *out)
{
	for (const char *c = text; *c; c++) {
		if (strchr("\\`*_<>[]#|", *c))
			tc_buffer_char(out, '\\');
		tc_buffer_char(out, *c);
	}
}

static void put(prose *p, const char *text)
{
	tc_buffer_puts(&p->text, text);
	put_escaped(text, &p->markdown);
}

static void heading(prose *p, const char *text)
{
	tc_buffer_print(&p->text, "%s%s:\n", p->text.length ? "\n" : "", text);
	tc_buffer_print(&p->markdown, "%s**%s**\n\n", p->markdown.length ? "\n" : "", text);
}

static void item(prose *p, const char *text)
{
	tc_buffer_puts(&p->text, "- ");
	tc_buffer_puts(&p->markdown, "- ");
	put(p, text);
	tc_buffer_char(&p->text, '\n');
	tc_buffer_char(&p->markdown, '\n');
}

/* An expression of the rule language, as it is. */
static void code(prose *p, const char *text)
{
	const tc_text trimmed = tc_text_trim(tc_text_of(text));
	tc_buffer_print(&p->text, "%.*s\n", (int)trimmed.length, trimmed.at);
	tc_buffer_print(&p->markdown, "```\n%.*s\n```\n", (int)trimmed.length, trimmed.at);
}

/* --- words of a rule --------------------------------------------------------------------------------------------- */

static void add_sources(prose *p, const tc_library *library, const tc_rule *rule)
{
	tc_buffer line;
	tc_buffer_start(&line, NULL);
	if (rule->bases && *rule->bases)
		heading(p, "Sources");
	for (const tc_basis *const *basis = rule->bases; basis && *basis; basis++) {
		line.length = 0;
		tc_words_basis(library, *basis, &line);
		item(p, tc_words_text(&line));
	}
	p->text.failed = p->text.failed || line.failed;
	tc_buffer_free(&line);
}

static void add_help(prose *p, const tc_rulebook *rulebook, const tc_rule *rule)
{
	const tc_library *library = tc_rulebook_library(rulebook);
	tc_buffer_start(&p->text, NULL);
	tc_buffer_start(&p->markdown, NULL);
	put(p, rule->about);
	tc_buffer_char(&p->text, '\n');
	tc_buffer_char(&p->markdown, '\n');
	heading(p, "It is found where");
	code(p, rule->when_text);
	if (rule->note) {
		heading(p, "Note");
		item(p, rule->note);
	}
	add_sources(p, library, rule);
	if (rule->cautions && *rule->cautions != TC_NONE)
		heading(p, "Cautions");
	for (const uint32_t *c = rule->cautions; c && *c != TC_NONE; c++)
		item(p, tc_library_caution(library, *c)->says);
}

static json_t *multiform(tc_json *json, prose *p)
{
	json->failed = json->failed || p->text.failed || p->markdown.failed;
	json_t *object = tc_sarif_message(json, tc_words_text(&p->text));
	json_t *markdown = tc_sarif_message(json, tc_words_text(&p->markdown));
	tc_json_put(json, object, "markdown", json_incref(json_object_get(markdown, "text")));
	json_decref(markdown);
	tc_buffer_free(&p->text);
	tc_buffer_free(&p->markdown);
	return object;
}

/* What the rule is about, and the defect that it leads to. */
static json_t *full_description(tc_json *json, const tc_library *library, const tc_rule *rule)
{
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	tc_buffer_puts(&text, rule->about);
	if (rule->defect != TC_NONE) {
		const char *about = NULL, *defect = tc_library_defect(library, rule->defect, &about);
		tc_buffer_print(&text, "; to be expected: %s", defect);
		if (about && *about)
			tc_buffer_print(&text, " (%s)", about);
	}
	json->failed = json->failed || text.failed;
	json_t *object = tc_sarif_message(json, tc_words_text(&text));
	tc_buffer_free(&text);
	return object;
}

/* --- a rule ------------------------------------------------------------------------------------------------------ */

static json_t *level(tc_json *json, tc_verdict verdict)
{
	json_t *object = tc_json_object(json);
	tc_json_put(
	    json, object, "level", tc_json_text(json, verdict == TC_V_UNDECIDED ? "none" : tc_verdict_name(verdict)));
	return object;
}

static json_t *relationships(tc_json *json, const tc_library *library, const tc_rule *rule)
{
	json_t *array = tc_json_array(json), *object = tc_json_object(json), *target = tc_json_object(json);
	json_t *kinds = tc_json_array(json);
	const char *about, *id = tc_library_defect(library, rule->defect, &about);
	tc_json_put(json, target, "id", tc_json_text(json, id));
	tc_json_put(json, target, "index", tc_json_count(json, rule->defect));
	tc_json_push(json, kinds, tc_json_text(json, "relevant"));
	tc_json_put(json, object, "target", target);
	tc_json_put(json, object, "kinds", kinds);
	tc_json_push(json, array, object);
	return array;
}

static json_t *properties(tc_json *json, const tc_rulebook *rulebook, const tc_rule *rule)
{
	json_t *bag = tc_json_object(json), *sources = tc_json_array(json), *outranks = tc_json_array(json);
	tc_json_put(json, bag, "asks", tc_json_text(json, tc_ask_name(rule->ask)));
	for (const tc_basis *const *basis = rule->bases; basis && *basis; basis++)
		tc_json_push(json, sources, tc_json_basis(json, tc_rulebook_library(rulebook), *basis));
	for (const uint32_t *other = rule->outranks; other && *other != TC_NONE; other++)
		tc_json_push(json, outranks, tc_json_text(json, tc_rulebook_rule(rulebook, *other)->id));
	tc_json_put(json, bag, "sources", sources);
	tc_json_put(json, bag, "outranks", outranks);
	return bag;
}

static json_t *rule_descriptor(tc_json *json, const tc_rulebook *rulebook, const tc_rule *rule)
{
	json_t *object = tc_json_object(json);
	prose help;
	tc_json_put(json, object, "id", tc_json_text(json, rule->id));
	tc_json_put(json, object, "shortDescription", tc_sarif_message(json, rule->about));
	tc_json_put(json, object, "fullDescription", full_description(json, tc_rulebook_library(rulebook), rule));
	add_help(&help, rulebook, rule);
	tc_json_put(json, object, "help", multiform(json, &help));
	tc_json_put(json, object, "defaultConfiguration", level(json, rule->verdict));
	if (rule->defect != TC_NONE)
		tc_json_put(json, object, "relationships", relationships(json, tc_rulebook_library(rulebook), rule));
	tc_json_put(json, object, "properties", properties(json, rulebook, rule));
	return object;
}

static json_t *unused_descriptor(tc_json *json)
{
	json_t *object = tc_json_object(json);
	const char *about = "an acceptance that accepts nothing: what it overruled is not found any more";
	tc_json_put(json, object, "id", tc_json_text(json, TC_RULE_UNUSED));
	tc_json_put(json, object, "shortDescription", tc_sarif_message(json, about));
	tc_json_put(json, object, "fullDescription", tc_sarif_message(json, about));
	tc_json_put(json, object, "help",
	    tc_sarif_message(
	        json, "Take the acceptance out of the recipe, or correct the rule, part or step that it names."));
	tc_json_put(json, object, "defaultConfiguration", level(json, TC_V_WARNING));
	return object;
}

/* --- the driver -------------------------------------------------------------------------------------------------- */

static json_t *rules(tc_json *json, const tc_rulebook *rulebook)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < tc_rulebook_rules(rulebook); i++)
		tc_json_push(json, array, rule_descriptor(json, rulebook, tc_rulebook_rule(rulebook, i)));
	tc_json_push(json, array, unused_descriptor(json));
	return array;
}

static json_t *notifications(tc_json *json, const tc_library *library)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < tc_library_cautions(library); i++) {
		const tc_caution *caution = tc_library_caution(library, i);
		json_t *object = tc_json_object(json);
		tc_json_put(json, object, "id", tc_json_text(json, caution->id));
		tc_json_put(json, object, "shortDescription", tc_sarif_message(json, caution->says));
		tc_json_put(json, object, "defaultConfiguration", level(json, TC_V_NOTE));
		tc_json_push(json, array, object);
	}
	return array;
}

static json_t *taxa(tc_json *json, const tc_library *library)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < tc_library_defects(library); i++) {
		const char *about = NULL, *id = tc_library_defect(library, i, &about);
		json_t *object = tc_json_object(json);
		tc_json_put(json, object, "id", tc_json_text(json, id));
		if (about && *about)
			tc_json_put(json, object, "shortDescription", tc_sarif_message(json, about));
		tc_json_push(json, array, object);
	}
	return array;
}

json_t *tc_sarif_tool(tc_json *json, const tc_rulebook *rulebook)
{
	const tc_library *library = tc_rulebook_library(rulebook);
	json_t *tool = tc_json_object(json), *driver = tc_json_object(json), *bag = tc_json_object(json);
	tc_json_put(json, driver, "name", tc_json_text(json, "tiecoat"));
	tc_json_put(json, driver, "version", tc_json_text(json, TC_VERSION));
	tc_json_put(json, driver, "semanticVersion", tc_json_text(json, TC_VERSION));
	tc_json_put(json, driver, "language", tc_json_text(json, "en"));
	tc_json_put(json, driver, "shortDescription",
	    tc_sarif_message(json, "Checks the finishing plans of scale models against a rulebook."));
	tc_json_put(json, driver, "rules", rules(json, rulebook));
	tc_json_put(json, driver, "notifications", notifications(json, library));
	tc_json_put(json, driver, "taxa", taxa(json, library));
	tc_json_put(json, bag, "rulebook", tc_json_rulebook(json, rulebook));
	tc_json_put(json, driver, "properties", bag);
	tc_json_put(json, tool, "driver", driver);
	return tool;
}
