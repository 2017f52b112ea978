/*
 * Reads the tab-separated tables beside this file: lines that begin with # are comments, the first other line names the
 * columns.  For tests only.
 */
#ifndef TC_TEST_TABLE_H
#define TC_TEST_TABLE_H

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TABLE_ROWS 700
#define TABLE_COLUMNS 20
#define TABLE_BYTES (256 * 1024)

struct table {
	char text[TABLE_BYTES];
	const char *name[TABLE_COLUMNS];
	const char *cell[TABLE_ROWS][TABLE_COLUMNS];
	size_t columns, rows;
};

static inline size_t table_split(char *line, const char **cell)
{
	size_t count = 0;
	for (char *at = line; at != NULL && count < TABLE_COLUMNS;) {
		cell[count++] = at;
		at = strchr(at, '\t');
		if (at != NULL)
			*at++ = '\0';
	}
	return count;
}

/* Ends the test program when the file is missing, too big, or a row has the wrong number of cells. */
static inline void table_read(struct table *table, const char *path)
{
	FILE *file = fopen(path, "rb");
	size_t length = file != NULL ? fread(table->text, 1, TABLE_BYTES - 1, file) : 0;
	if (file == NULL || length == 0 || length == TABLE_BYTES - 1) {
		fprintf(stderr, "%s: cannot be read whole (run from the top of the tree)\n", path);
		exit(2);
	}
	fclose(file);
	table->text[length] = '\0';
	table->columns = table->rows = 0;
	char *save = NULL;
	for (char *line = strtok_r(table->text, "\n", &save); line != NULL; line = strtok_r(NULL, "\n", &save)) {
		if (line[0] == '#')
			continue;
		if (table->columns == 0) {
			table->columns = table_split(line, table->name);
		} else if (table->rows == TABLE_ROWS || table_split(line, table->cell[table->rows]) != table->columns) {
			fprintf(stderr, "%s: bad row near %s\n", path, line);
			exit(2);
		} else {
			table->rows++;
		}
	}
}

static inline const char *table_text(const struct table *table, size_t row, const char *column)
{
	for (size_t c = 0; c < table->columns; c++)
		if (strcmp(table->name[c], column) == 0)
			return table->cell[row][c];
	fprintf(stderr, "no column %s\n", column);
	exit(2);
}

static inline double table_number(const struct table *table, size_t row, const char *column)
{
	char *end;
	const char *text = table_text(table, row, column);
	double value = strtod(text, &end);
	if (end == text || *end != '\0') {
		fprintf(stderr, "%s: not a number: %s\n", column, text);
		exit(2);
	}
	return value;
}

/* The row whose column holds this text; ends the program when there is none. */
static inline size_t table_find(const struct table *table, const char *column, const char *text)
{
	for (size_t row = 0; row < table->rows; row++)
		if (strcmp(table_text(table, row, column), text) == 0)
			return row;
	fprintf(stderr, "no row with %s %s\n", column, text);
	exit(2);
}

#endif
