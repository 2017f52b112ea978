/* Where cards go: one after the other to one output, or each to a file of its own in a folder, with an index of them. */
#ifndef TC_FACE_CARD_OUT_H
#define TC_FACE_CARD_OUT_H

#include "face/options.h"
#include "plan/plan.h"

typedef struct tc_card_out tc_card_out;

/* `several`: more than one recipe may come. `stamp`: s since 1970, of the day on which a calendar was written. NULL, and that was
 * said: the output cannot be opened, or that form cannot hold several in one file. */
tc_card_out *tc_card_out_open(const tc_options *options, bool several, double stamp);

/* Adds the card of a plan. False: it was not written, and that was said. */
bool tc_card_out_add(tc_card_out *out, const char *file, const tc_plan *plan);
/* A file that could not be read, for the index. */
bool tc_card_out_unread(tc_card_out *out, const char *file, const char *why);

/* Ends the output and frees it. `keep` false takes away what was written to one file. False: not all was written. */
bool tc_card_out_close(tc_card_out *out, bool keep);

#endif
