/* The words of the coverage, the same in the text and on the page. */
#include <math.h>

#include "report/coverage.h"

static const struct {
	const char *mark, *gist;
} words[TC_COVERED_COUNT] = {
    [TC_COVERED_BY_RULES] = {"R", "a rule speaks of every pair of materials"},
    [TC_COVERED_BY_BOTH] = {"r", "a rule speaks of some pairs, the model answers for the rest"},
    [TC_COVERED_BY_MODEL] = {"m",
        "the model alone: whether the coat attacks can be computed, or the ground is inert, or the library "
        "says that the coat holds there; rules that ask for a property and not for a kind apply"},
    [TC_COVERED_GENERALLY] = {"g", "of some pairs only rules that hold of any coat on any coat"},
    [TC_COVERED_IN_PART] = {"?", "nothing is known of some pairs"},
    [TC_COVERED_NOT] = {"-", "nothing is known of any pair"},
};

const char *tc_coverage_mark(tc_coverage_word word)
{
	return words[word].mark;
}

const char *tc_coverage_gist(tc_coverage_word word)
{
	return words[word].gist;
}

const char *tc_coverage_name(const tc_coverage_group *group)
{
	return group->entry->name;
}

const char *tc_coverage_section(tc_section section)
{
	switch (section) {
	case TC_SECTION_SUBSTRATES:
		return "what parts are made of";
	case TC_SECTION_FILLERS:
		return "fillers";
	case TC_SECTION_DECALS:
		return "decals";
	default:
		return "coats below";
	}
}

const char *tc_coverage_by(tc_known_by by)
{
	static const char *const names[TC_KNOWN_COUNT] = {[TC_BY_RULE] = "by a rule",
	    [TC_BY_MODEL] = "by the model alone",
	    [TC_BY_GENERAL] = "by general rules alone",
	    [TC_BY_NOTHING] = "by nothing"};
	return names[by];
}

void tc_coverage_share(const tc_coverage *coverage, tc_known_by by, tc_buffer *out)
{
	const uint32_t *pairs = coverage->all.pairs;
	uint32_t sum = 0;
	for (unsigned i = 0; i < TC_KNOWN_COUNT; i++)
		sum += pairs[i];
	tc_buffer_print(out, "%u (", (unsigned)pairs[by]);
	tc_buffer_number(out, sum ? round(1000.0 * pairs[by] / sum) / 10 : 0, 1, 4);
	tc_buffer_puts(out, " %)");
}
