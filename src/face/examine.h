/* What one thread does with one file: reads it, judges its recipes, and writes its piece of the report. */
#ifndef TC_FACE_EXAMINE_H
#define TC_FACE_EXAMINE_H

#include "face/ledger.h"
#include "face/settings.h"
#include "report/report.h"

/* What is the same for all files. */
typedef struct tc_examine_plan {
	const tc_rulebook *rulebook;
	const tc_report *report;
	const tc_ledger *ledger; /* NULL: none */
	bool brief;              /* the report shows neither reasons nor remedies */
	tc_verdict at_least;
	bool at_least_said; /* on the command line: before what settings say */
} tc_examine_plan;

/* A file, and what came out. */
typedef struct tc_examined {
	tc_buffer path, real;        /* as it was named, and its real path */
	bool named;                  /* itself, on the command line: holding no recipe is an error */
	const tc_settings *settings; /* NULL: none */
	/* out: */
	tc_piece *piece;
	tc_buffer key, met, lines; /* of the ledger */
	uint32_t recipes;          /* documents that are recipes, good or bad */
	uint32_t unread;           /* 1: it has errors, or a recipe of which nothing can be said */
	bool found;                /* something of the weight that counts */
	bool no_memory;
} tc_examined;

bool tc_examined_start(tc_examined *file, const tc_report *report); /* false: out of memory */
void tc_examined_end(tc_examined *file);

typedef struct tc_examiner tc_examiner;
tc_examiner *tc_examiner_new(const tc_examine_plan *plan); /* NULL: out of memory */
void tc_examiner_free(tc_examiner *examiner);
void tc_examine(tc_examiner *examiner, tc_examined *file);

#endif
