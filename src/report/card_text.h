/* What the files of the card's text share. */
#ifndef TC_REPORT_CARD_TEXT_H
#define TC_REPORT_CARD_TEXT_H

#include "report/card.h"
#include "report/card_words.h"
#include "report/private.h"

typedef struct tc_card_sheet {
	const tc_plan *plan;
	const tc_judgement *judgement; /* that the card speaks of */
	tc_groups groups;              /* of it */
	tc_page *page;
	tc_buffer text; /* scratch; tc_card_taken empties it */
} tc_card_sheet;

/* `lead` at column `indent` and the scratch text beside it from `hang` on; nothing where the text is empty. */
void tc_card_row_add(tc_card_sheet *sheet, size_t indent, const char *lead, size_t hang);

/* The sections of the sheet. */
void tc_card_text_table(tc_card_sheet *sheet);    /* steps by day, with what stands at them */
void tc_card_text_conflict(tc_card_sheet *sheet); /* why there are no times */
void tc_card_text_layers(tc_card_sheet *sheet);   /* each part drawn */
void tc_card_text_stuff(tc_card_sheet *sheet);    /* to buy */
void tc_card_text_air(tc_card_sheet *sheet);

#endif
