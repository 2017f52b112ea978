/* What the parts of `tiecoat rules` share. */
#ifndef TC_FACE_RULES_H
#define TC_FACE_RULES_H

#include "face/book.h"
#include "face/sheet.h"

void tc_rules_list(const tc_book *book, tc_page *page);
void tc_rules_fields(tc_page *page);
/* False: there is no rule of that id, and that was said; or out of memory. */
bool tc_rules_explain(const tc_book *book, const char *id, tc_page *page);
bool tc_rules_code(const tc_book *book, const char *id, tc_page *page);
/* The exit status; here of what is known of which pair. */
int tc_rules_coverage(const tc_options *options, const tc_book *book, tc_page *page);
/* The exit status. Paths of recipes to look through as well. */
int tc_rules_verify(const tc_book *book, const char *const *paths, uint32_t count, tc_page *page);

/* The rule of that id; NULL with a complaint that offers the nearest. */
const tc_rule *tc_rules_find(const tc_book *book, const char *id);

#endif
