/* Files of the time zone database (RFC 9636), from bytes that nobody vouches for: every length is checked against what is
 * there. */
#include <string.h>

#include "base/date.h"
#include "plan/zone_read.h"

#define HEADER 44u
#define OFFSET_LEAST (-89999) /* s; RFC 9636 §3.2 */
#define OFFSET_MOST 93599

/* A file's header: what its block holds. */
typedef struct header {
	char version;
	uint32_t is_utc, is_standard, leaps, times, types, letters;
} header;

/* Its parts. */
typedef struct block {
	header has;
	unsigned wide; /* bytes of a moment: 4, or 8 from version 2 on */
	const unsigned char *time, *index, *type, *letter, *end;
} block;

typedef struct reading {
	tc_arena *arena;
	tc_zone *zone;
	tc_zone_row *row; /* zone->count of them */
	uint32_t room;
	int64_t from, to;
	bool failed;
} reading;

static uint32_t number_at(const unsigned char *at)
{
	return (uint32_t)at[0] << 24 | (uint32_t)at[1] << 16 | (uint32_t)at[2] << 8 | at[3];
}

static int64_t moment_at(const block *b, uint32_t i)
{
	const unsigned char *at = b->time + (size_t)i * b->wide;
	if (b->wide == 4)
		return (int32_t)number_at(at);
	return (int64_t)((uint64_t)number_at(at) << 32 | number_at(at + 4));
}

/* --- the parts of a file ----------------------------------------------------------------------------------------- */

static bool read_header(const unsigned char *at, const unsigned char *end, header *has)
{
	if ((size_t)(end - at) < HEADER || memcmp(at, "TZif", 4) != 0)
		return false;
	*has = (header){.version = (char)at[4],
	    .is_utc = number_at(at + 20),
	    .is_standard = number_at(at + 24),
	    .leaps = number_at(at + 28),
	    .times = number_at(at + 32),
	    .types = number_at(at + 36),
	    .letters = number_at(at + 40)};
	return true;
}

/* A block of moments `wide` bytes long. False: there is less than it says. */
static bool read_block(const unsigned char *at, const unsigned char *end, unsigned wide, block *b)
{
	if (!read_header(at, end, &b->has))
		return false;
	const header *has = &b->has;
	const uint64_t length = (uint64_t)has->times * (wide + 1) + (uint64_t)has->types * 6 + has->letters +
	                        (uint64_t)has->leaps * (wide + 4) + has->is_standard + has->is_utc;
	if (length > (uint64_t)(end - at) - HEADER)
		return false;
	b->wide = wide;
	b->time = at + HEADER;
	b->index = b->time + (size_t)has->times * wide;
	b->type = b->index + has->times;
	b->letter = b->type + (size_t)has->types * 6;
	b->end = at + HEADER + length;
	return true;
}

/* The last line: a rule between line ends. */
static bool read_rule(const unsigned char *at, const unsigned char *end, tc_text *rule)
{
	if (at == end || *at != '\n')
		return false;
	const unsigned char *close = memchr(at + 1, '\n', (size_t)(end - at - 1));
	if (!close)
		return false;
	*rule = (tc_text){(const char *)at + 1, (size_t)(close - at - 1)};
	return true;
}

/* --- what holds from when on ------------------------------------------------------------------------------------- */

/* From a moment on it is so. What is before the first moment that is asked for is only remembered. */
static void add_row(reading *r, int64_t at, int32_t offset, tc_text name)
{
	if (at > r->to || r->failed)
		return;
	const bool early = at <= r->from, first = r->zone->count == 0;
	tc_zone_row *last = first ? NULL : &r->row[r->zone->count - 1];
	const bool named = last && tc_text_same(tc_text_of(last->name), name);
	if (named && last->offset == offset)
		return;
	const char *kept = named ? last->name : tc_arena_text(r->arena, name.at, name.length);
	const tc_zone_row row = {early ? r->from : at, offset, kept};
	if (kept && last && (early || last->from >= at)) {
		*last = row;
	} else if (kept && tc_arena_grow(r->arena, (void **)&r->row, r->zone->count, &r->room, sizeof row)) {
		r->row[r->zone->count++] = row;
	} else {
		r->failed = true;
	}
}

/* False: the type does not exist, or says what cannot be. */
static bool add_type(reading *r, const block *b, int64_t at, uint32_t number)
{
	if (number >= b->has.types)
		return false;
	const unsigned char *type = b->type + (size_t)number * 6;
	const int32_t offset = (int32_t)number_at(type);
	const uint32_t letter = type[5];
	if (offset < OFFSET_LEAST || offset > OFFSET_MOST || letter >= b->has.letters)
		return false;
	const char *name = (const char *)b->letter + letter;
	const char *close = memchr(name, '\0', b->has.letters - letter);
	if (!close)
		return false;
	add_row(r, at, offset, (tc_text){name, (size_t)(close - name)});
	return true;
}

static bool add_listed(reading *r, const block *b)
{
	if (!add_type(r, b, INT64_MIN, 0))
		return false;
	for (uint32_t i = 0; i < b->has.times; i++) {
		if (i > 0 && moment_at(b, i) <= moment_at(b, i - 1))
			return false;
		if (!add_type(r, b, moment_at(b, i), b->index[i]))
			return false;
	}
	return true;
}

static int32_t year_of(int64_t utc)
{
	return tc_date_of((int32_t)(utc / TC_DAY_SECONDS)).year;
}

/* What the rule adds after the last moment that is listed. */
static void add_ruled(reading *r, const tc_zone_rule *rule, int64_t after)
{
	const int64_t begin = after > r->from ? after : r->from;
	if (!rule->summer) {
		add_row(r, after, rule->offset, rule->name);
		return;
	}
	/* from the year before: what holds at the beginning began there */
	for (int32_t year = year_of(begin < r->to ? begin : r->to) - 1; year <= year_of(r->to) + 1; year++) {
		int64_t begins, ends;
		tc_zone_rule_year(rule, year, &begins, &ends);
		/* at one moment with its end, summer goes on */
		const bool summer_first = begins < ends;
		for (unsigned i = 0; i < 2; i++) {
			const bool summer = (i == 0) == summer_first;
			const int64_t at = summer ? begins : ends;
			if (at > after)
				add_row(r, at, summer ? rule->summer_offset : rule->offset,
				    summer ? rule->summer_name : rule->name);
		}
	}
}

static bool add_all(reading *r, const block *b, const tc_text *line)
{
	tc_zone_rule rule;
	if (b->has.leaps > 0 || b->has.types == 0 || !add_listed(r, b))
		return false;
	if (!line || line->length == 0)
		return true;
	if (!tc_zone_rule_read(*line, &rule))
		return false;
	add_ruled(r, &rule, b->has.times ? moment_at(b, b->has.times - 1) : INT64_MIN);
	return true;
}

tc_status tc_zone_parse(tc_arena *arena, const char *bytes, size_t length, int64_t from, int64_t to, tc_zone *zone)
{
	reading r = {.arena = arena, .zone = zone, .from = from, .to = to};
	const unsigned char *at = (const unsigned char *)bytes, *end = at + length;
	tc_text rule;
	block b;
	zone->count = 0;
	bool good = length <= TC_ZONE_FILE_MAX && read_block(at, end, 4, &b);
	if (good && b.has.version != '\0') {
		/* the first block is for readers of old; what counts comes after it */
		good = read_block(b.end, end, 8, &b) && read_rule(b.end, end, &rule) && add_all(&r, &b, &rule);
	} else if (good) {
		good = add_all(&r, &b, NULL);
	}
	if (r.failed || tc_arena_failed(arena))
		return TC_NO_MEMORY;
	zone->row = r.row;
	return good && zone->count > 0 ? TC_OK : TC_BAD;
}
