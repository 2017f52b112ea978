/* What an earlier run says of findings: a ledger of known ones. SARIF tells it of each result; the other forms show what is
 * not known, and count the rest. */
#ifndef TC_REPORT_COMPARED_H
#define TC_REPORT_COMPARED_H

#include "report/fingerprint.h"

#define TC_RULE_UNUSED "unused-acceptance" /* the rule of an acceptance that accepts nothing */

typedef enum tc_since {
	TC_SINCE_NEW,
	TC_SINCE_SAME,
	TC_SINCE_MORE /* it was there, and weighs more now */
} tc_since;

typedef struct tc_past {
	tc_since since;
	bool known;    /* left out where only what is new is shown: it does not count */
	uint32_t line; /* of the ledger; 0: none */
} tc_past;

/* Beside a judgement without what is known. */
typedef struct tc_compared {
	const tc_judgement *whole;       /* as it was judged */
	const tc_past *finding, *unused; /* of each in `whole` */
	const char *ledger;              /* its path */
	bool written;                    /* it is being written: there is nothing earlier */
} tc_compared;

/* A finding of an earlier run that no longer occurs. */
typedef struct tc_vanished {
	const char *path, *rule;
	char fingerprint[TC_FINGERPRINT_SIZE];
	tc_verdict weight;
	const char *ledger;
	uint32_t line;
	bool gone; /* with its file */
} tc_vanished;

#endif
