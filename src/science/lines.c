#include "science/lines.h"

#include <math.h>

#include "science/range.h"

static bool valid(struct tc_line line, double wall, double bottom)
{
	return tc_within(line.width, 0.0, 0.1) && tc_within(line.depth, 0.0, 0.1) && tc_within(wall, 0.0, 20.0)
	       && tc_within(bottom, 0.0, 20.0);
}

bool tc_line_left(struct tc_line cut, double film, double wall, double bottom, struct tc_line *left)
{
	if (!valid(cut, wall, bottom) || !tc_within(film, 0.0, 0.1))
		return false;
	double width = cut.width - 2.0 * film * wall, depth = cut.depth + film - film * bottom;
	bool open = width > 0.0 && depth > 0.0;
	*left = (struct tc_line){open ? width : 0.0, open ? depth : 0.0};
	return true;
}

bool tc_line_closes(struct tc_line cut, double wall, double bottom, double *film)
{
	if (!valid(cut, wall, bottom))
		return false;
	double sides = wall > 0.0 ? cut.width / (2.0 * wall) : INFINITY;
	double floor_up = bottom > 1.0 ? cut.depth / (bottom - 1.0) : INFINITY;
	double least = fmin(sides, floor_up);
	if (cut.width <= 0.0 || cut.depth <= 0.0)
		least = 0.0;
	if (!(least <= 0.1))
		return false;
	*film = least;
	return true;
}

bool tc_line_full(struct tc_line line, double scale, struct tc_line *full)
{
	if (!valid(line, 0.0, 0.0) || !tc_within(scale, 1.0, 1e4))
		return false;
	*full = (struct tc_line){line.width * scale, line.depth * scale};
	return true;
}
