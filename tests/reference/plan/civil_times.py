"""Civil times by Python's zoneinfo (PEP 615), for ref_calendar.c: another reading of the same time zone database.

civil_times.py prints, for each zone, `Z name`, then lines
  U utc offset name year month day hour minute second weekday     what the clock on the wall shows at a moment
  W year month day hour minute utc                                the first moment at which it shows that, or more
around each change of clocks from 1970 to 2145, and at moments spread over these years. Moments are s since 1970-01-01 UTC."""

import datetime
import random
import zoneinfo

ZONES = """Etc/UTC Etc/GMT+5 Europe/Berlin Europe/Dublin Europe/London Europe/Istanbul Europe/Chisinau America/New_York
America/Los_Angeles America/St_Johns America/Sao_Paulo America/Santiago America/Mexico_City America/Havana America/Nuuk
America/Scoresbysund America/Caracas Australia/Lord_Howe Australia/Sydney Pacific/Apia Pacific/Chatham Pacific/Kwajalein
Pacific/Easter Antarctica/Troll Africa/Casablanca Africa/Cairo Africa/Monrovia Asia/Tehran Asia/Gaza Asia/Jerusalem
Asia/Kathmandu Asia/Pyongyang Asia/Kolkata EST5EDT""".split()

FIRST, LAST = 0, 5522688000  # 1970-01-01, 2145-01-01
STEP = 10 * 86400
UTC = datetime.timezone.utc
EPOCH = datetime.datetime(1970, 1, 1)


def at(zone, utc):
    return datetime.datetime.fromtimestamp(utc, zone)


def offset(zone, utc):
    return int(at(zone, utc).utcoffset().total_seconds())


def change_between(zone, low, high):
    """The first moment of what holds at `high`."""
    before = offset(zone, low)
    while high - low > 1:
        middle = (low + high) // 2
        if offset(zone, middle) == before:
            low = middle
        else:
            high = middle
    return high


def changes(zone):
    found, before = [], offset(zone, FIRST)
    for utc in range(FIRST + STEP, LAST, STEP):
        now = offset(zone, utc)
        if now != before:
            found.append(change_between(zone, utc - STEP, utc))
        before = now
    return found


def tell_moment(zone, utc):
    t = at(zone, utc)
    print("U", utc, offset(zone, utc), t.tzname(), t.year, t.month, t.day, t.hour, t.minute, t.second, t.weekday())


def first_moment(zone, wall):
    """Of a wall time that is left out: the end of the gap. PEP 495: there the two folds lie beyond its two ends."""
    early, late = (int(wall.replace(tzinfo=zone, fold=fold).timestamp()) for fold in (0, 1))
    if at(zone, early).replace(tzinfo=None) == wall:
        return early
    return change_between(zone, min(early, late), max(early, late))


def tell_wall(zone, wall):
    print("W", wall.year, wall.month, wall.day, wall.hour, wall.minute, first_moment(zone, wall))


def tell(name, chance):
    zone = zoneinfo.ZoneInfo(name)
    print("Z", name)
    for utc in changes(zone):
        for near in (-86400, -1, 0, 1, 1799, 3600):
            tell_moment(zone, utc + near)
        edge = EPOCH + datetime.timedelta(seconds=utc + offset(zone, utc - 1))
        for minutes in (-120, -61, -60, -30, -1, 0, 1, 29, 30, 59, 60, 90, 1440):
            tell_wall(zone, edge.replace(second=0) + datetime.timedelta(minutes=minutes))
    for _ in range(200):
        utc = chance.randrange(FIRST, LAST)
        tell_moment(zone, utc)
        tell_wall(zone, (EPOCH + datetime.timedelta(seconds=utc)).replace(second=0))


def main():
    chance = random.Random(20310517)
    for name in ZONES:
        tell(name, chance)


if __name__ == "__main__":
    main()
