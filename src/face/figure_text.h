/* A figure of the library in words. */
#ifndef TC_FACE_FIGURE_TEXT_H
#define TC_FACE_FIGURE_TEXT_H

#include "library/library.h"

/* The value with its unit, `none`, `unknown`; for a range as published also the spread. */
void tc_figure_words(const tc_library *library, const tc_property_row *row, const tc_figure *figure, tc_buffer *out);

/* What a type and a dimension are called in a table: `a time`, `a share`, `a word of cure`. */
void tc_type_words(tc_type type, tc_dim dim, const char *vocabulary, tc_buffer *out);

#endif
