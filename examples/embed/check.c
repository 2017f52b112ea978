/* A program of one's own that checks a recipe by libtiecoat and says what was found, line by line:
 *
 *   cc -o check check.c $(pkg-config --cflags --libs tiecoat)
 *   ./check pilot-cutter.yaml
 *
 * --json prints the whole result instead. Exit status: 0 nothing found, 1 something found, 2 something could not be
 * read. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <tiecoat.h>

/* The bytes of a file, to be freed; NULL: it cannot be read. */
static char *read_file(const char *path, size_t *length)
{
	FILE *in = fopen(path, "rb");
	char *bytes = NULL;
	size_t room = 0;
	*length = 0;
	while (in && !ferror(in) && !feof(in)) {
		char *more = *length < room ? bytes : realloc(bytes, room += 65536);
		if (!more)
			break;
		bytes = more;
		*length += fread(bytes + *length, 1, room - *length, in);
	}
	const bool good = in && feof(in);
	if (in)
		fclose(in);
	if (good)
		return bytes;
	free(bytes);
	return NULL;
}

/* --- what lies beside a recipe ------------------------------------------------------------------------------------ */

/* A shelf in another file, kept until the check is done. */
typedef struct shelf {
	char *bytes;
} shelf;

static const char *read_beside(void *user, const char *beside, const char *name, size_t *length, const char **reason)
{
	shelf *s = user;
	const char *slash = *name == '/' ? NULL : strrchr(beside, '/');
	char path[4096];
	const int folder = slash ? (int)(slash - beside) + 1 : 0;
	if (snprintf(path, sizeof path, "%.*s%s", folder, beside, name) >= (int)sizeof path)
		return NULL;
	free(s->bytes);
	s->bytes = read_file(path, length);
	if (!s->bytes)
		*reason = "there is no such file";
	return s->bytes;
}

/* --- saying what was found ---------------------------------------------------------------------------------------- */

static void say_message(const tiecoat_message *message)
{
	static const char *const names[] = {"note", "warning", "error"};
	printf("%s:%u: %s: %s\n", message->file ? message->file : "-", (unsigned)message->line,
	    names[message->severity], message->text);
}

static void say_finding(const tiecoat_finding *finding)
{
	if (finding->acceptance)
		return;
	printf("%s:%u: %s: %s [%s]\n", finding->file ? finding->file : "-", (unsigned)finding->line,
	    tiecoat_verdict_name(finding->verdict), finding->message, finding->rule);
	for (size_t i = 0; i < finding->reasons; i++)
		if (finding->reason[i]->has_number)
			printf("\twhy: %s = %s\n", finding->reason[i]->fact, finding->reason[i]->text);
	for (size_t i = 0; i < finding->needs; i++)
		printf("\tneeded: %s; %s\n", finding->need[i]->datum, finding->need[i]->where);
	for (size_t i = 0; i < finding->remedies; i++)
		printf("\t%s: %s\n", i ? "or" : "do", finding->remedy[i]->text);
}

static void say_recipe(const tiecoat_recipe *recipe)
{
	printf("%s: %u errors, %u warnings, %u notes, %u undecided\n", recipe->title, (unsigned)recipe->errors,
	    (unsigned)recipe->warnings, (unsigned)recipe->notes, (unsigned)recipe->undecided);
	for (size_t i = 0; i < recipe->findings; i++)
		say_finding(recipe->finding[i]);
	for (size_t i = 0; i < recipe->cautions; i++) /* they belong to what was found, always */
		printf("caution: %s\n", recipe->caution[i]->text);
}

static int say(tiecoat_result *result, bool as_json)
{
	const char *json;
	if (as_json) {
		const tiecoat_status status = tiecoat_result_json(result, &json, NULL);
		if (status != TIECOAT_OK) {
			fprintf(stderr, "check: %s\n", tiecoat_status_text(status));
			return 2;
		}
		fputs(json, stdout);
	}
	for (size_t i = 0; !as_json && i < tiecoat_result_messages(result); i++)
		say_message(tiecoat_result_message(result, i));
	for (size_t i = 0; !as_json && i < tiecoat_result_recipes(result); i++)
		say_recipe(tiecoat_result_recipe(result, i));
	return (int)tiecoat_result_outcome(result, TIECOAT_ERROR); /* from which weight on it counts */
}

/* --- checking ----------------------------------------------------------------------------------------------------- */

static int check(tiecoat_worker *worker, const char *path, bool as_json)
{
	size_t length;
	char *bytes = read_file(path, &length);
	if (!bytes) {
		fprintf(stderr, "check: cannot read %s\n", path);
		return 2;
	}
	shelf s = {NULL};
	const tiecoat_beside beside = {read_beside, &s};
	tiecoat_result *result;
	const tiecoat_status status = tiecoat_check(worker, path, bytes, length, &beside, &result);
	free(bytes); /* the library has its own copy */
	free(s.bytes);
	if (!result) {
		fprintf(stderr, "check: %s\n", tiecoat_status_text(status));
		return 2;
	}
	const int outcome = say(result, as_json);
	tiecoat_result_free(result);
	return outcome;
}

int main(int argc, char **argv)
{
	const bool as_json = argc > 1 && strcmp(argv[1], "--json") == 0;
	tiecoat_rulebook *rulebook = NULL;
	tiecoat_worker *worker = NULL;
	int worst = 0;
	if (argc < 2 + as_json) {
		fprintf(stderr, "usage: check [--json] RECIPE...   (libtiecoat %s)\n", tiecoat_version());
		return 2;
	}
	tiecoat_status status = tiecoat_rulebook_builtin(NULL, &rulebook);
	if (status == TIECOAT_OK)
		status = tiecoat_worker_new(rulebook, &worker);
	if (status != TIECOAT_OK) {
		fprintf(stderr, "check: %s\n", tiecoat_status_text(status));
		worst = 2;
	}
	for (int i = 1 + as_json; worker && i < argc; i++) {
		const int outcome = check(worker, argv[i], as_json);
		worst = outcome > worst ? outcome : worst;
	}
	tiecoat_worker_free(worker);
	tiecoat_rulebook_free(rulebook);
	return worst;
}
