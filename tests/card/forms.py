"""The forms of a card against their standards, against each other and against the program's exit status.

forms.py PROGRAM: every example, the recipes of tests/golden/card, and some made here for what those lack (the nights on which clocks
change, on both halves of the globe and with odd offsets). JSON is held to card.schema.json; calendars to RFC 5545 by a reader of this file's
own, and read by python3-icalendar, once by the names of their zones and once by what they say of them alone; CSV by the csv module."""

import csv
import datetime as dt
import glob
import io
import json
import os
import re
import subprocess
import sys
import tempfile

import icalendar
import jsonschema

HERE = os.path.dirname(os.path.abspath(__file__))
PROGRAM = os.path.abspath(sys.argv[1])
SCHEMA = json.load(open(os.path.join(HERE, "card.schema.json"), encoding="utf-8"))
ENVIRONMENT = dict(os.environ, SOURCE_DATE_EPOCH="1900000000", LC_ALL="C.UTF-8")
START = "--start=2031-05-14 19:00"
failures = []
counts = {"cards": 0, "tasks": 0, "events": 0, "alarms": 0, "zones": 0, "purchases": 0}

STACK = """
workshop: {temperature: 20 °C, humidity: 50 %, room: 24 m³, habits: {dust: yes, dry: yes}}
parts: {hull: {substrate: polystyrene, area: 300 cm²}, deck: {substrate: polystyrene, size: 60 × 40 × 3 mm}}
shelf:
  grey primer: {family: mild-lacquer-primer, recoat: 1 h to 30 h}
  two-part: {family: urethane-clear-2k, mix: 2:1, size: 100 ml, price: 9.5}
stack:
  - {sand: P1000, on: hull}
  - {coat: grey primer, on: hull, role: primer, coats: 2, pass: light, flash: 15 min}
  - {sand: P1000, on: deck}
  - wait: 2 h
  - {coat: two-part, role: clear, passes: [light, medium], flash: 15 min}
  - wait: 30 min
  - {sand: P2000, takes: 5 min}
  - {wash: detergent, time: 2 h}
"""
# When clocks change in these zones, by the rules in force: the last Sundays of March and October at 01:00 UTC; the first Sunday of
# April and the last of September at 14:00 UTC the day before; on the second Sunday of March and the first of November at 02:00.
MADE = {
    f"{name}.yaml": f"recipe: Ferry, {name}\nstart: {start}\nzone: {zone}\n{STACK}"
    for name, start, zone in [
        ("autumn", "2031-10-25 22:10", "Europe/Berlin"),
        ("autumn-late", "2031-10-26 01:40", "Europe/Berlin"),
        ("spring", "2031-03-30 00:10", "Europe/Berlin"),
        ("south", "2031-04-06 00:20", "Pacific/Auckland"),
        ("half-hour", "2031-04-06 00:20", "Australia/Lord_Howe"),
        ("west", "2031-11-01 23:40", "America/St_Johns"),
        ("quarter", "2031-07-01 23:30", "Asia/Kathmandu"),
        ("utc", "2031-07-01 23:30", "Etc/UTC"),
    ]
}
MADE["floating.yaml"] = f"recipe: Ferry, no zone\nstart: 2031-10-26 01:10\n{STACK}"
MADE["hours.yaml"] = f"recipe: Ferry, hours\nsessions: daily 19:00 to 23:30\n{STACK}"


def fail(path, what):
    failures.append(f"{path}: {what}")


def expect(path, what, one, other):
    if one != other:
        fail(path, f"{what}: {one!r}, but {other!r}")


def run(form, path, *options):
    done = subprocess.run([PROGRAM, "card", "--format=" + form, *options, path], capture_output=True, check=False, env=ENVIRONMENT)
    return done.returncode, done.stdout


# --- JSON -------------------------------------------------------------------------------------------------------------


def instant(moment):
    return dt.datetime.fromisoformat(moment["time"])


def check_json(path, card):
    for error in jsonschema.Draft202012Validator(SCHEMA).iter_errors(card):
        fail(path, f"JSON: {'/'.join(map(str, error.absolute_path))}: {error.message[:200]}")
        return
    tasks, bounds = card["tasks"], card["bounds"]
    counts["cards"] += 1
    counts["tasks"] += len(tasks)
    for bound in bounds:
        if bound["to"] >= len(tasks) or (bound["from"] is not None and bound["from"] >= len(tasks)):
            fail(path, "a bound is of no task")
    for cup in card["supply"]["cups"]:
        if cup["task"] > cup["last_task"] or cup["last_task"] >= len(tasks):
            fail(path, "a cup is of no task")
    if card["state"] != "found":
        expect(path, "a conflict", card["state"] == "conflict", bool(card["conflict"] and card["conflict"]["bounds"]))
        expect(path, "times of none", [t["start"] for t in tasks], [None] * len(tasks))
        return
    busy = 0
    for task in tasks:
        start, end = task["start"]["seconds"], task["end"]["seconds"]
        if start < busy:
            fail(path, f"step {task['step']} begins before hands are free")
        busy = end if task["attended"] else max(busy, start)
        if end < start or (task["latest"] and task["latest"]["seconds"] < start):
            fail(path, f"step {task['step']} ends or closes before it begins")
    origin = card["calendar"]["origin"]
    for task in tasks if origin else []:
        # elapsed seconds are what the clock on the wall shows, by its offset
        for moment in (task["start"], task["end"], task["latest"], task["closes"]):
            if moment:
                expect(path, "the clock", (instant(moment) - instant(origin)).total_seconds(), moment["seconds"])


# --- a reader of RFC 5545 -----------------------------------------------------------------------------------------------

LINE = re.compile(r"^[A-Z0-9-]+(?:;[A-Z0-9-]+=(?:\"[^\"\x00-\x08\x0a-\x1f\x7f]*\"|[^\";:,\x00-\x08\x0a-\x1f\x7f]*))*:[^\x00-\x08\x0a-\x1f\x7f]*$")
TEXTS = {"SUMMARY", "DESCRIPTION", "NAME", "TZID", "TZNAME"}
ONCE = {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "TRANSP"}
KNOWN = {
    "VCALENDAR": {"VERSION", "PRODID", "CALSCALE", "NAME"},
    "VTIMEZONE": {"TZID"},
    "STANDARD": {"DTSTART", "TZOFFSETFROM", "TZOFFSETTO", "TZNAME"},
    "DAYLIGHT": {"DTSTART", "TZOFFSETFROM", "TZOFFSETTO", "TZNAME"},
    "VEVENT": ONCE,
    "VALARM": {"ACTION", "TRIGGER", "DESCRIPTION"},
}
WITHIN = {"VCALENDAR": None, "VTIMEZONE": "VCALENDAR", "STANDARD": "VTIMEZONE", "DAYLIGHT": "VTIMEZONE", "VEVENT": "VCALENDAR", "VALARM": "VEVENT"}
NEEDS = {"VCALENDAR": {"VERSION", "PRODID"}, "VEVENT": {"UID", "DTSTAMP", "DTSTART"}, "VALARM": {"ACTION", "TRIGGER", "DESCRIPTION"}}
VALUES = {
    "DTSTAMP": r"\d{8}T\d{6}Z",
    "DTSTART": r"\d{8}T\d{6}Z?",
    "DTEND": r"\d{8}T\d{6}Z?",
    "TZOFFSETFROM": r"[+-]\d{4}(\d\d)?",
    "TZOFFSETTO": r"[+-]\d{4}(\d\d)?",
    "TRIGGER": r"-?PT(\d+H(\d+M(\d+S)?)?|\d+M(\d+S)?|\d+S)",
    "VERSION": r"2\.0",
}


def check_lines(path, data):
    if not data.endswith(b"\r\n") or b"\n" in data.replace(b"\r\n", b"") or b"\r" in data.replace(b"\r\n", b""):
        fail(path, "a line does not end in CR LF")
    lines = []
    for line in data.split(b"\r\n")[:-1]:
        if not 0 < len(line) <= 75:
            fail(path, f"a line of {len(line)} octets")
        text = line.decode("utf-8")  # of each line by itself: no character is parted
        if text[0] == " ":
            lines[-1] += text[1:]
        else:
            lines.append(text)
    return lines


def check_value(path, name, value):
    if name in TEXTS and re.search(r"(?<!\\)(?:\\\\)*[;,]|\\(?![\\;,nN])", value.replace("\\\\", "")):
        fail(path, f"{name} is not escaped: {value[:80]}")
    if name in VALUES and not re.fullmatch(VALUES[name], value):
        fail(path, f"{name}: {value}")


def check_calendar(path, data):
    """Components in their places, each property where it may be and as often; uids that differ."""
    stack, uids = [], []
    for line in check_lines(path, data):
        if not LINE.match(line):
            fail(path, f"not a content line: {line[:80]}")
            continue
        head, value = re.match(r"((?:[^:\"]|\"[^\"]*\")*):(.*)$", line).groups()
        name = head.split(";")[0]
        if name == "BEGIN":
            expect(path, f"{value} within", WITHIN.get(value, "?"), stack[-1][0] if stack else None)
            stack.append((value, {}))
        elif name == "END":
            kind, seen = stack.pop()
            expect(path, "END", value, kind)
            for needed in NEEDS.get(kind, set()) - set(seen):
                fail(path, f"{kind} without {needed}")
            uids += [seen["UID"]] if "UID" in seen else []
        else:
            kind, seen = stack[-1]
            if name not in KNOWN[kind] or name in seen:
                fail(path, f"{name} in {kind}")
            seen[name] = value
            check_value(path, name, value)
    expect(path, "open components", stack, [])
    expect(path, "uids once", len(set(uids)), len(uids))


# --- the calendar against the JSON ----------------------------------------------------------------------------------------


def utc(value):
    return value if value.tzinfo is None else value.astimezone(dt.timezone.utc).replace(tzinfo=None)


def tell(moment, zoned):
    at = instant(moment)
    return at.astimezone(dt.timezone.utc).replace(tzinfo=None) if zoned else at


def read_events(data):
    events = []
    for event in icalendar.Calendar.from_ical(data).walk("VEVENT"):
        start = utc(event["DTSTART"].dt)
        end = utc(event["DTEND"].dt) if "DTEND" in event else start
        # the difference of two moments of one zone in Python is that of its wall clocks: so both are in UTC by now
        alarms = [start + alarm["TRIGGER"].dt for alarm in event.walk("VALARM")]
        events.append((str(event["UID"]), start, end, alarms))
    return events


def compare(path, card, events):
    zoned = card["calendar"]["zone"] is not None
    starts = [tell(t["start"], zoned) for t in card["tasks"]]
    ends = [tell(t["end"], zoned) for t in card["tasks"]]
    latest = [tell(t["latest"], zoned) for t in card["tasks"] if t["latest"] and t["closed_by"] is not None]
    work = [e for e in events if not e[0].endswith("-latest@tiecoat")]
    for start in starts:
        if not any(e[1] <= start <= e[2] for e in work):
            fail(path, f"no event holds the task of {start}")
    for event in work:
        if event[1] not in starts + ends:
            fail(path, f"an event begins at {event[1]}, where no task does")
        if event[2] not in ends + starts:
            fail(path, f"an event ends at {event[2]}, where no task does")
    for event in events:
        if event[0].endswith("-latest@tiecoat") and event[1] not in latest:
            fail(path, f"a last moment at {event[1]}, where nothing closes")
    expect(path, "alarms", sum(len(e[3]) for e in events), len(latest))
    counts["events"] += len(events)
    counts["alarms"] += len(latest)


def check_ical(path, card, data):
    check_calendar(path, data)
    zone = card["calendar"]["zone"]
    compare(path, card, read_events(data))
    if not zone:
        return
    counts["zones"] += 1
    # with a name that nobody knows a reader must go by the VTIMEZONE
    data = data.replace(b"\r\n ", b"").replace(zone.encode(), b"Saltmarsh/" + re.sub(r"\W", "", zone + path).encode())
    compare(path, card, read_events(data))


# --- CSV --------------------------------------------------------------------------------------------------------------


def check_csv(path, card, data):
    text = data.decode("utf-8")
    if "\n" in text.replace("\r\n", "") or not text.endswith("\r\n"):
        fail(path, "CSV: a line does not end in CR LF")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    head, rows = rows[0], rows[1:]
    expect(path, "CSV: columns", {len(row) for row in rows} | {15}, {15})
    expect(path, "CSV: header", (head[0], head[3], len(head)), ("use", "used (ml)", 15))
    expect(path, "CSV: lines", len(rows), len(card["supply"]["purchases"]))
    for row, purchase in zip(rows, card["supply"]["purchases"]):
        name = re.sub(r"\s", " ", purchase["name"])
        expect(path, "CSV: name", row[1].removeprefix("'"), name)
        expect(path, "CSV: steps", row[14], " ".join(map(str, purchase["steps"])))
        volume = purchase["volume"]
        if (row[3] == "") != (volume is None) or (volume is not None and abs(float(row[3]) - volume * 1e6) > 1e-3 * volume * 1e6 + 1e-9):
            fail(path, f"CSV: {row[1]}: {row[3]} ml, but {volume} m³")
        for cell in row:
            if cell.lstrip()[:1] in ("=", "+", "-", "@", "\t", "\r"):
                fail(path, f"CSV: a formula: {cell[:40]}")
    counts["purchases"] += len(rows)


# --- the whole ----------------------------------------------------------------------------------------------------------


def check_inert(path, form, data):
    text = data.decode("utf-8")
    if re.search("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\x80-\x9f\u202a-\u202e\u2066-\u2069\u2028\u2029]", text):
        fail(path, f"{form}: a control character")


def check(path):
    status, data = run("json", path)
    if status > 1:
        fail(path, "cannot be read")
        return
    card = json.loads(data)
    expect(path, "again", run("json", path), (status, data))
    check_json(path, card)
    heavy = card["state"] != "found" or card["weight"] == "error"
    for form in ("text", "json", "csv"):
        done = run(form, path)
        expect(path, f"status of {form}", done[0], int(heavy))
        check_inert(path, form, done[1])
    check_csv(path, card, run("csv", path)[1])
    if card["state"] != "found":
        expect(path, "no calendar", run("ical", path), (2, b""))
        return
    options = []
    if not card["calendar"]["origin"]:
        expect(path, "no start, no calendar", run("ical", path), (2, b""))
        options = [START]
        card = json.loads(run("json", path, *options)[1])
        check_json(path, card)
    status, data = run("ical", path, *options)
    expect(path, "status of ical", status, int(heavy))
    check_inert(path, "ical", data)
    check_ical(path, card, data)


def main():
    for path in sorted(glob.glob("examples/*.yaml")) + sorted(glob.glob("tests/golden/card/*.yaml")):
        check(path)
    with tempfile.TemporaryDirectory(prefix="made") as folder:
        for name, text in MADE.items():
            path = os.path.join(folder, name)
            with open(path, "w", encoding="utf-8") as out:
                out.write(text)
            check(path)
    for failure in failures[:40]:
        print(failure)
    print(f"summary: {', '.join(f'{n} {what}' for what, n in counts.items())}; {len(failures)} failed")
    if not (counts["alarms"] and counts["zones"] >= 8):
        print("nothing closed, or no zones: these tests do not test")
        return 1
    return 1 if failures else 0


sys.exit(main())
