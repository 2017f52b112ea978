// The time zone database of the system, read by cctz. No exception leaves this file, and nothing else of C++.
#include <chrono>
#include <new>

#include <cctz/civil_time.h>
#include <cctz/time_zone.h>

#include "plan/zone_read.h"

namespace
{

using moment = cctz::time_point<cctz::seconds>;

// s on the wall, as a clock without a zone counts them
int64_t wall_seconds(const cctz::civil_second &civil)
{
	return civil - cctz::civil_second(1970, 1, 1);
}

tc_zone_answer walk(const char *name, int64_t from, int64_t to, tc_zone_take *take, void *user)
{
	cctz::time_zone zone;
	if (!cctz::load_time_zone(name, &zone))
		return TC_ZONE_UNKNOWN;
	moment now = moment(cctz::seconds(from));
	cctz::time_zone::absolute_lookup holds = zone.lookup(now);
	cctz::time_zone::civil_transition change;
	while (take(user, now.time_since_epoch().count(), holds.offset, holds.abbr) &&
	       zone.next_transition(now, &change)) {
		// by the clock that held until then: `change.from` may be a time that never is, or is twice
		now = moment(cctz::seconds(wall_seconds(change.from) - holds.offset));
		if (now.time_since_epoch().count() > to)
			break;
		holds = zone.lookup(now);
	}
	return TC_ZONE_READ;
}

} // namespace

tc_zone_answer tc_zone_walk(const char *name, int64_t from, int64_t to, tc_zone_take *take, void *user)
{
	try {
		return walk(name, from, to, take, user);
	} catch (const std::bad_alloc &) {
		return TC_ZONE_NO_MEMORY;
	} catch (...) { // a length that its containers refuse: the file is none of the database
		return TC_ZONE_UNKNOWN;
	}
}
