/* Solvents from solvents.tsv as the library takes them.  For tests only. */
#ifndef TC_TEST_SOLVENTS_H
#define TC_TEST_SOLVENTS_H

#include <stdio.h>

#include "science/drying.h"

#include "table.h"

static inline struct tc_groups solvent_groups(const char *text)
{
	struct tc_groups groups = {0};
	unsigned subgroup, times;
	int used;
	while (groups.count < TC_GROUPS_MAX && sscanf(text, "%u:%u%n", &subgroup, &times, &used) == 2) {
		groups.of[groups.count].subgroup = (uint16_t)subgroup;
		groups.of[groups.count++].times = (uint16_t)times;
		text += used;
	}
	return groups;
}

static inline struct tc_solvent solvent_at(const struct table *table, size_t row)
{
	struct tc_solvent solvent = {
		.hansen = {table_number(table, row, "d") * 1e3, table_number(table, row, "p") * 1e3,
			table_number(table, row, "h") * 1e3},
		.molar_mass = table_number(table, row, "molar_mass") * 1e-3,
		.density = table_number(table, row, "density") * 1e3,
		.molar_volume = table_number(table, row, "molar_volume") * 1e-6,
		.antoine = {table_number(table, row, "antoine_a"), table_number(table, row, "antoine_b"),
			table_number(table, row, "antoine_c")},
		.vaporisation = table_number(table, row, "heat") * 1e3,
		.groups = solvent_groups(table_text(table, row, "unifac")),
	};
	return solvent;
}

static inline struct tc_solvent solvent_named(const struct table *table, const char *id)
{
	return solvent_at(table, table_find(table, "id", id));
}

#endif
