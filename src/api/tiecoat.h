/* libtiecoat: a plan for a model's finish (a recipe, YAML) checked against a rulebook, from inside another program.
 *
 *   a rulebook   what is known of materials, and the rules; made once, shared by all threads
 *   a worker     what one thread keeps between recipes; one for each thread
 *   a result     what came of one file of recipes: findings, cautions, messages; belongs to the caller
 *
 * Nothing in here says that a thing is safe. Each recipe brings the cautions of its materials with it. They are
 * part of what came out and cannot be left out: whoever shows findings to a person shows the cautions too, and
 * defers to the label, the safety data sheet, local codes and licensed practice, as they do.
 *
 * Bytes come in, data go out: the library opens no file, prints nothing, ends no program, has no state of its own
 * outside its handles, and reads neither the environment nor the locale. (jansson, by which JSON is made, takes random
 * numbers from the system once in a program.)
 *
 * THREADS. A rulebook may be used by any number of threads at once. A worker may be used by one thread at a time,
 * and so may a result or an answer while its JSON is asked for; reading what a result or an answer holds may be
 * done by any number.
 *
 * OWNERSHIP. What a handle gives out (texts, structures, lists) belongs to it and stays as it is until that handle
 * is freed. What is handed to the library is copied; it may be let go of when the call has come back. A result
 * outlives its worker, and both outlive the caller's hold on the rulebook: the order in which handles are freed
 * does not matter.
 *
 * TEXT is UTF-8 and ends in NUL. Lines and columns count from 1, columns in code points; line 0 is a file as a
 * whole. Quantities are in SI units.
 *
 * VERSIONS. Programs built with this header work with every later library of the same soname (libtiecoat.so.0).
 * Structures that the library gives out may grow at their end: look at them where they lie, and neither copy them
 * whole nor put them into arrays. Lists (count and array of pointers) are in the order told. Enumerations may get
 * more values.
 *
 * C17 and C++11. */
#ifndef TIECOAT_H
#define TIECOAT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define TIECOAT_VERSION_MAJOR 0
#define TIECOAT_VERSION_MINOR 1
#define TIECOAT_VERSION_PATCH 0

#if defined(__GNUC__)
#define TIECOAT_API __attribute__((visibility("default")))
#else
#define TIECOAT_API
#endif

#ifdef __cplusplus
extern "C" {
#endif

/* The version of the library that is running, such as "0.1.0"; the macros tell that of this header. */
TIECOAT_API const char *tiecoat_version(void);

/* How a call ended. */
typedef enum tiecoat_status {
	TIECOAT_OK = 0,
	TIECOAT_BAD =
	    1, /* what came in has errors. The handle is given out all the same: its messages say what is wrong */
	TIECOAT_NO_MEMORY = 2, /* an allocation failed; no handle is given out, and nothing is lost */
	TIECOAT_MISUSE = 3 /* an argument that must not be NULL is, or a rulebook with errors was to be worked with */
} tiecoat_status;

/* A short sentence for a log: "out of memory". Never NULL; lasts for ever. */
TIECOAT_API const char *tiecoat_status_text(tiecoat_status status);

/* Where memory comes from. `get` behaves as realloc, and for a size of 0 frees `old` (if it is not NULL) and
 * returns NULL. It must be fit to be called by all threads that use the rulebook, and last until the last handle is
 * freed. libyaml and jansson draw from the C library besides, for the time of a call. */
typedef struct tiecoat_memory {
	void *(*get)(void *user, void *old, size_t size);
	void *user;
} tiecoat_memory;

/* --- messages ----------------------------------------------------------------------------------------------------- */

typedef enum tiecoat_severity {
	TIECOAT_MESSAGE_NOTE = 0,    /* worth knowing */
	TIECOAT_MESSAGE_WARNING = 1, /* can be used, but probably does not mean what was meant */
	TIECOAT_MESSAGE_ERROR = 2    /* cannot be used */
} tiecoat_severity;

/* What is wrong with the text of a recipe or a rulebook. That is no finding: findings are about the plan. */
typedef struct tiecoat_message {
	tiecoat_severity severity;
	const char *id;   /* its short name, such as "unknown-name" */
	const char *file; /* the name that was given with the bytes; NULL: none */
	uint32_t line, column;
	const char *text;         /* what is wrong, then what would be right; no capital, no full stop */
	const char *related_file; /* another place that matters; NULL: none */
	uint32_t related_line, related_column;
	const char *related_text;
} tiecoat_message;

/* --- the rulebook ------------------------------------------------------------------------------------------------- */

typedef struct tiecoat_rulebook tiecoat_rulebook;

/* One file of a rulebook: its name in messages, and its bytes. The file of a higher layer may amend and retire what
 * stands in lower ones (docs/rulebook.md); within a layer the order does not matter. */
typedef struct tiecoat_file {
	const char *name;
	const char *bytes;
	size_t length;
	uint32_t layer; /* 0: the lowest of those given */
} tiecoat_file;

/* The rulebook that is built into the library. memory: NULL for the C library's. TIECOAT_OK, TIECOAT_NO_MEMORY,
 * TIECOAT_MISUSE. */
TIECOAT_API tiecoat_status tiecoat_rulebook_builtin(const tiecoat_memory *memory, tiecoat_rulebook **rulebook);

/* A rulebook from files. on_builtin: they are laid over the built-in one; else they are all there is. With
 * TIECOAT_BAD the rulebook holds its messages and cannot be worked with. */
TIECOAT_API tiecoat_status tiecoat_rulebook_load(const tiecoat_memory *memory, const tiecoat_file *files, size_t count,
    bool on_builtin, tiecoat_rulebook **rulebook);

/* Lets go of it; it goes with the last worker, result and answer made from it. NULL is allowed. */
TIECOAT_API void tiecoat_rulebook_free(tiecoat_rulebook *rulebook);

/* A hash of its content, 16 hexadecimal digits, the `version` of `rulebook` in the JSON; "" of a rulebook with
 * errors. */
TIECOAT_API const char *tiecoat_rulebook_stamp(const tiecoat_rulebook *rulebook);

/* Messages about its files, by file and line; warnings and notes of a good one. NULL past the last. */
TIECOAT_API size_t tiecoat_rulebook_messages(const tiecoat_rulebook *rulebook);
TIECOAT_API const tiecoat_message *tiecoat_rulebook_message(const tiecoat_rulebook *rulebook, size_t index);

/* --- what comes out ----------------------------------------------------------------------------------------------- */

typedef enum tiecoat_verdict {
	TIECOAT_NOTE = 0,
	TIECOAT_WARNING = 1,
	TIECOAT_ERROR = 2,
	TIECOAT_UNDECIDED = 3 /* something is not known that decides: see needs */
} tiecoat_verdict;

/* "note", "warning", "error", "undecided"; NULL of any other number. Lasts for ever. */
TIECOAT_API const char *tiecoat_verdict_name(tiecoat_verdict verdict);

/* Where a value in a reason comes from. */
typedef enum tiecoat_origin {
	TIECOAT_SAID = 0,    /* in the recipe */
	TIECOAT_ASSUMED = 1, /* a default, since nobody said it */
	TIECOAT_LIBRARY = 2, /* a figure of the rulebook */
	TIECOAT_COMPUTED = 3
} tiecoat_origin;

/* A fact that decided. */
typedef struct tiecoat_reason {
	const char *fact;  /* as the rule names it: `coat.red(under)` */
	const char *about; /* what that is; NULL */
	const char *test;  /* what was asked of it: `coat.red(under) < 1` */
	const char *text;  /* its value, with its unit */
	bool has_number;
	double number;    /* in `unit` */
	const char *unit; /* SI; NULL: a number without one, or no number */
	tiecoat_origin origin;
	const char *file; /* where it stands, in a recipe or in the rulebook; NULL: nowhere */
	uint32_t line, column;
	const char *entry;  /* id of the library's entry; NULL */
	const char *source; /* of a figure of the library: its line of the bibliography, or common practice; NULL */
	const char *from;   /* computed: from what; NULL */
} tiecoat_reason;

/* What an undecided finding lacks. */
typedef struct tiecoat_need {
	const char *datum; /* `solvents of lamp black` */
	const char *where; /* how to say it */
	const char *file;  /* where it would be said; NULL */
	uint32_t line, column;
} tiecoat_need;

/* A change of the recipe's text: what stands from one place up to before the other becomes `text`. Both the same:
 * put in. */
typedef struct tiecoat_edit {
	uint32_t from_line, from_column, to_line, to_column;
	const char *text;
} tiecoat_edit;

/* What to do about a finding. Only checking the changed plan tells what it brings. */
typedef struct tiecoat_remedy {
	const char *text;                /* a sentence */
	const char *yaml;                /* the step to put in, or the keys to change; NULL where it is none */
	double seconds;                  /* of one that waits longer or shorter, else 0 */
	size_t edits;                    /* 0: no machine can carry it out */
	const tiecoat_edit *const *edit; /* in the order of the text, all of the checked file */
} tiecoat_remedy;

/* That a recipe accepts a finding. */
typedef struct tiecoat_acceptance {
	const char *name; /* of the rule or the defect, as written */
	const char *because;
	uint32_t line, column;
} tiecoat_acceptance;

typedef struct tiecoat_finding {
	const char *rule;  /* its id */
	const char *about; /* what the rule is about; NULL */
	tiecoat_verdict verdict;
	tiecoat_verdict weight; /* what it counts as against a threshold: an undecided one at most a warning */
	bool lowered;           /* would be an error, but rests on what is assumed alone */
	const char *defect;     /* that is to be expected; NULL */
	const char *part;       /* of the model; NULL: of the whole recipe */
	uint32_t step;          /* from 1; 0: none */
	const char *file;       /* of the step; NULL: none */
	uint32_t line, column;
	const char *message;
	const char *related_file; /* where what it meets was laid; NULL: none */
	uint32_t related_line, related_column;
	const char *related_text; /* NULL */
	size_t reasons;
	const tiecoat_reason *const *reason;
	size_t needs; /* of an undecided one */
	const tiecoat_need *const *need;
	size_t remedies; /* any one of them */
	const tiecoat_remedy *const *remedy;
	size_t sources;
	const char *const *source; /* of the rule: a line of the bibliography each */
	size_t outranked;
	const char *const *outranks;          /* ids of rules that this one made needless here */
	const tiecoat_acceptance *acceptance; /* NULL: not accepted. Accepted findings count for nothing */
} tiecoat_finding;

/* A caution that goes with the materials of a recipe. To be shown. */
typedef struct tiecoat_caution {
	const char *id;
	const char *text;
	size_t codes;
	const char *const *code; /* H-codes that brought it up */
	size_t steps;            /* 0: it is for the whole plan */
	const uint32_t *step;    /* numbers of the steps at which it matters, rising */
	const char *because;     /* materials that brought it up; NULL: all */
} tiecoat_caution;

/* What nobody said and was taken from the rulebook's defaults. */
typedef struct tiecoat_assumption {
	const char *what;   /* `humidity` */
	const char *text;   /* `50 %` */
	const char *source; /* NULL */
	bool mattered;      /* a rule read it */
} tiecoat_assumption;

/* One recipe of a file, judged. */
typedef struct tiecoat_recipe {
	const char *title;
	uint32_t line, column; /* where it begins */
	bool judged;           /* false: a bound on evaluation was hit, and nothing can be said */
	uint32_t errors, warnings, notes, undecided,
	    accepted; /* how many findings; an unused acceptance is a warning */
	size_t findings;
	const tiecoat_finding *const *finding; /* by line, column, rule, part; accepted ones among them */
	size_t cautions;
	const tiecoat_caution *const *caution; /* the gravest first */
	size_t assumptions;
	const tiecoat_assumption *const *assumption;
	size_t unused;
	const tiecoat_acceptance *const *unused_acceptance; /* those that accept nothing */
} tiecoat_recipe;

/* What lies beside a recipe, for `shelf: my-shelf.yaml`. Hands back the bytes of what is named, beside the file
 * `beside` (the name given with its bytes; "" for none), or NULL, with *reason set to why, in words, if there is
 * something to say. The bytes and the reason must last until the library's call comes back. Called by the thread
 * that called the library. */
typedef struct tiecoat_beside {
	const char *(*read)(void *user, const char *beside, const char *name, size_t *length, const char **reason);
	void *user;
} tiecoat_beside;

/* --- checking ----------------------------------------------------------------------------------------------------- */

typedef struct tiecoat_worker tiecoat_worker;

/* TIECOAT_OK, TIECOAT_NO_MEMORY, TIECOAT_MISUSE (also of a rulebook with errors). Draws from the rulebook's memory. */
TIECOAT_API tiecoat_status tiecoat_worker_new(tiecoat_rulebook *rulebook, tiecoat_worker **worker);
TIECOAT_API void tiecoat_worker_free(tiecoat_worker *worker); /* NULL is allowed */

typedef struct tiecoat_result tiecoat_result;

/* Checks all recipes of a file of YAML. name: of the file, as it is to stand in messages. bytes: may be NULL if
 * length is 0. beside: NULL if nothing lies beside it; a recipe that names a shelf in another file has an error
 * then. TIECOAT_OK: everything was read and judged, whatever was found. TIECOAT_BAD: some was not; the result holds
 * the rest. */
TIECOAT_API tiecoat_status tiecoat_check(tiecoat_worker *worker, const char *name, const char *bytes, size_t length,
    const tiecoat_beside *beside, tiecoat_result **result);
TIECOAT_API void tiecoat_result_free(tiecoat_result *result); /* NULL is allowed */

/* What a program would exit with. */
typedef enum tiecoat_outcome {
	TIECOAT_NOTHING_FOUND =
	    0, /* of that weight. That is not to say that the plan is safe to carry out: see the cautions */
	TIECOAT_FOUND = 1,
	TIECOAT_NOT_READ = 2 /* something could not be read or judged */
} tiecoat_outcome;

/* at_least: TIECOAT_NOTE, TIECOAT_WARNING or TIECOAT_ERROR; findings of less weight do not count. Of NULL:
 * TIECOAT_NOT_READ. */
TIECOAT_API tiecoat_outcome tiecoat_result_outcome(const tiecoat_result *result, tiecoat_verdict at_least);

/* The recipes that were read, in the order of the file. NULL past the last. */
TIECOAT_API size_t tiecoat_result_recipes(const tiecoat_result *result);
TIECOAT_API const tiecoat_recipe *tiecoat_result_recipe(const tiecoat_result *result, size_t index);

/* What is wrong with the text, by line. A recipe with an error was not judged. NULL past the last. */
TIECOAT_API size_t tiecoat_result_messages(const tiecoat_result *result);
TIECOAT_API const tiecoat_message *tiecoat_result_message(const tiecoat_result *result, size_t index);

/* All of it as the JSON document of `tiecoat check --format=json` (docs/json.md), made at the first call. *length
 * (may be NULL): its bytes without the NUL. TIECOAT_OK, TIECOAT_NO_MEMORY, TIECOAT_MISUSE. */
TIECOAT_API tiecoat_status tiecoat_result_json(tiecoat_result *result, const char **json, size_t *length);

/* --- one liquid on one solid -------------------------------------------------------------------------------------- */

/* What is asked, each as a person writes it (docs/recipe.md). NULL: not said. Start with TIECOAT_BITE_ASK. */
typedef struct tiecoat_bite_ask {
	size_t size;        /* sizeof(tiecoat_bite_ask) */
	const char *solid;  /* a material or a label of the shelf; of a coating its dried film is meant */
	const char *liquid; /* likewise, or parts of a blend: `toluene:40,acetone:60` */
	const char *shelf;  /* name of a file with a shelf, for `beside` */
	const char *pass, *wet_film, *coats, *flash, *thin, *time; /* `wet`, `50 µm`, `2`, `10 min`, `1:1`, `1 min` */
	const char *temperature, *air_speed, *humidity;
	bool stressed; /* the solid holds stress */
} tiecoat_bite_ask;
#ifdef __cplusplus
#define TIECOAT_BITE_ASK                                                                                               \
	[]() -> tiecoat_bite_ask {                                                                                     \
		tiecoat_bite_ask ask = tiecoat_bite_ask();                                                             \
		ask.size = sizeof ask;                                                                                 \
		return ask;                                                                                            \
	}()
#else
#define TIECOAT_BITE_ASK                                                                                               \
	{                                                                                                              \
		.size = sizeof(tiecoat_bite_ask)                                                                       \
	}
#endif

typedef enum tiecoat_bite_verdict {
	TIECOAT_BITE_NONE = 0, /* no attack expected: of these figures, and no word about anything else */
	TIECOAT_BITE_CRAZES = 1,
	TIECOAT_BITE_SWELLS = 2,
	TIECOAT_BITE_DISSOLVES = 3,
	TIECOAT_BITE_UNDECIDED = 4
} tiecoat_bite_verdict;

typedef struct tiecoat_answer tiecoat_answer;

/* Would the liquid attack the solid? With TIECOAT_BAD the answer holds messages alone; `file` of one about what was
 * asked names that (`SOLID`, `--thin`), and its line is 0. */
TIECOAT_API tiecoat_status tiecoat_bite(
    tiecoat_worker *worker, const tiecoat_bite_ask *ask, const tiecoat_beside *beside, tiecoat_answer **answer);
TIECOAT_API void tiecoat_answer_free(tiecoat_answer *answer); /* NULL is allowed */

/* TIECOAT_BITE_UNDECIDED where there is none. */
TIECOAT_API tiecoat_bite_verdict tiecoat_answer_verdict(const tiecoat_answer *answer);
/* The verdict in words; NULL where there is none. */
TIECOAT_API const char *tiecoat_answer_text(const tiecoat_answer *answer);
/* The cautions that go with the materials. To be shown. NULL past the last. */
TIECOAT_API size_t tiecoat_answer_cautions(const tiecoat_answer *answer);
TIECOAT_API const tiecoat_caution *tiecoat_answer_caution(const tiecoat_answer *answer, size_t index);
TIECOAT_API size_t tiecoat_answer_messages(const tiecoat_answer *answer);
TIECOAT_API const tiecoat_message *tiecoat_answer_message(const tiecoat_answer *answer, size_t index);
/* The JSON document of `tiecoat bite --format=json`, with all figures; as tiecoat_result_json. TIECOAT_BAD: there
 * is no verdict. */
TIECOAT_API tiecoat_status tiecoat_answer_json(tiecoat_answer *answer, const char **json, size_t *length);

#ifdef __cplusplus
}
#endif

#endif
