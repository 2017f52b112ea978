#include "science/tooth.h"

#include <math.h>

#include "science/range.h"

static bool valid_grain(double grain)
{
	return tc_within(grain, 1e-8, 5e-3);
}

static bool valid_table(const struct tc_grade *table, size_t rows)
{
	if (rows < 2 || rows > 256)
		return false;
	for (size_t i = 0; i < rows; i++) {
		if (!tc_within(table[i].grade, 1e-3, 1e6) || !valid_grain(table[i].grain))
			return false;
		if (i > 0 && !(table[i].grade > table[i - 1].grade && table[i].grain < table[i - 1].grain))
			return false;
	}
	return true;
}

bool tc_tooth_grain(const struct tc_grade *table, size_t rows, double grade, double *grain)
{
	if (!valid_table(table, rows) || !tc_within(grade, table[0].grade, table[rows - 1].grade))
		return false;
	size_t i = 0;
	while (i + 2 < rows && table[i + 1].grade <= grade)
		i++;
	double part = log(grade / table[i].grade) / log(table[i + 1].grade / table[i].grade);
	*grain = table[i].grain * pow(table[i + 1].grain / table[i].grain, part);
	return true;
}

bool tc_tooth_grade(const struct tc_grade *table, size_t rows, double grain, double *grade)
{
	if (!valid_table(table, rows) || !valid_grain(grain))
		return false;
	size_t best = 0;
	for (size_t i = 1; i < rows; i++)
		if (fabs(log(table[i].grain / grain)) < fabs(log(table[best].grain / grain)))
			best = i;
	*grade = table[best].grade;
	return true;
}

bool tc_tooth_depth(double grain, double share, double *depth)
{
	if (!valid_grain(grain) || !tc_within(share, 0.0, 1.0))
		return false;
	*depth = grain * share;
	return true;
}

bool tc_tooth_shows(double depth, double swell, double film, double hiding, double *shows)
{
	if (!tc_within(depth, 0.0, 0.1) || !tc_within(swell, 1.0, 10.0) || !tc_within(film, 0.0, 0.1)
		|| !tc_within(hiding, 0.0, 10.0))
		return false;
	*shows = fmax(0.0, depth * swell - film * hiding);
	return true;
}

bool tc_tooth_jump(double first, double second, double *ratio)
{
	if (!valid_grain(first) || !valid_grain(second))
		return false;
	*ratio = first / second;
	return true;
}

bool tc_tooth_lacks(double depth, double needed, double *lacks)
{
	if (!tc_within(depth, 0.0, 0.1) || !tc_within(needed, 0.0, 0.1))
		return false;
	*lacks = fmax(0.0, needed - depth);
	return true;
}
