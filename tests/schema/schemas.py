"""The JSON Schemas of recipes, shelves, settings and rulebooks against the program: schemas.py PROGRAM.

YAML is read with every scalar as text, as the program reads it. Every example, every reference recipe and every file of the
rulebook must fit. Then recipes are broken in small ways, each way on many recipes, and the schema's word is held against the
program's: where one of them reads a recipe and the other does not, the way must be one of those that a schema cannot know, and
those are named here and in docs/json.md. The same for a file of the rulebook."""

import copy
import glob
import json
import os
import re
import subprocess
import sys
import tempfile

import jsonschema
import yaml

PROGRAM = os.path.abspath(sys.argv[1])
failures = []

# Ways of breaking a recipe that a schema lets through: they need the whole recipe, the library or arithmetic.
CANNOT_KNOW = {
    "name of a material", "name of a part", "figure out of range", "figure of another section", "shares do not add up",
    "material of another section", "too long a plan", "masked part", "pauses do not match", "coats and passes differ",
    "leap day of another year", "session of no length", "day with hours and none",
}


def schema(what):
    done = subprocess.run([PROGRAM, "schema", what], capture_output=True, check=True)
    document = json.loads(done.stdout)
    jsonschema.Draft202012Validator.check_schema(document)
    if done.stdout != subprocess.run([PROGRAM, "schema", what], capture_output=True, check=True).stdout:
        failures.append(f"{what}: not the same twice")
    return jsonschema.Draft202012Validator(document)


def documents(path):
    with open(path, encoding="utf-8") as file:
        return [d for d in yaml.load_all(file, Loader=yaml.BaseLoader) if d is not None]


def fault(validator, document):
    errors = list(validator.iter_errors(document))
    if not errors:
        return None
    error = jsonschema.exceptions.best_match(errors)
    return f"{'/'.join(map(str, error.absolute_path))}: {error.message[:160]}"


def dump(document):
    """As YAML whose scalars are read back as they are."""
    return json.dumps(document, ensure_ascii=False, indent=1)


# --- what must fit --------------------------------------------------------------------------------------------------------


def check_recipes(validator):
    count = 0
    for path in sorted(glob.glob("examples/**/*.yaml", recursive=True) + glob.glob("tests/reference/*/*.yaml")):
        status = subprocess.run([PROGRAM, "check", path], capture_output=True, check=False).returncode
        for document in documents(path):
            if not isinstance(document, dict) or "recipe" not in document:
                continue
            count += 1
            why = fault(validator, document)
            if why and status < 2:
                failures.append(f"{path}: the schema refuses what the program reads: {why}")
    blank = subprocess.run([PROGRAM, "blank"], capture_output=True, check=True, text=True).stdout
    yaml.load(blank, Loader=yaml.BaseLoader)
    return count


def check_typed(validator):
    """As an editor's YAML 1.2 has it: numbers are numbers."""
    for path in sorted(glob.glob("examples/*.yaml")):
        for document in documents(path):
            why = fault(validator, typed(document))
            if why:
                failures.append(f"{path}: refused when numbers are numbers: {why}")


def typed(value):
    if isinstance(value, dict):
        return {k: typed(v) for k, v in value.items()}
    if isinstance(value, list):
        return [typed(v) for v in value]
    if re.fullmatch(r"-?[0-9]+", value):
        return int(value)
    if re.fullmatch(r"-?[0-9]+\.[0-9]+", value):
        return float(value)
    return {"true": True, "false": False}.get(value, value)


def check_book(validator):
    files = sorted(glob.glob("rules/*/*.yaml"))
    for path in files:
        for document in documents(path):
            why = fault(validator, document)
            if why:
                failures.append(f"{path}: the schema refuses it: {why}")
    return len(files)


# --- what is broken -------------------------------------------------------------------------------------------------------


def step_with(recipe, key):
    return next((s for s in recipe.get("stack", []) if key in s), None)


def on_step(key, change):
    def way(recipe):
        step = step_with(recipe, key)
        return change(step) if step is not None else False
    return way


def put(key, value):
    def change(mapping):
        mapping[key] = value
    return change


def take(key):
    def change(mapping):
        return False if mapping.pop(key, None) is None else None
    return change


def on_top(change):
    return change


def on_part(change):
    def way(recipe):
        parts = recipe.get("parts")
        return change(next(iter(parts.values()))) if parts else False
    return way


def on_label(change):
    def way(recipe):
        shelf = recipe.get("shelf")
        return change(next(iter(shelf.values()))) if isinstance(shelf, dict) and shelf else False
    return way


def on_workshop(change):
    def way(recipe):
        return change(recipe.setdefault("workshop", {}))
    return way


def append(step):
    def way(recipe):
        recipe["stack"].append(step)
    return way


# Ways: what is done, and whether it is a fault that a schema can know ("" or the name of one that it cannot), or no fault (None).
WAYS = [
    ("unknown key of a step", on_step("coat", put("coatz", "2"))),
    ("key at the wrong verb", on_step("wait", put("coats", "2"))),
    ("key of a coat at a sanding", on_step("sand", put("pass", "light"))),
    ("two verbs", on_step("coat", put("sand", "P800"))),
    ("no verb", append({"on": "hull"})),
    ("step that is a text", append("coat grey primer")),
    ("step that is a list", append(["coat"])),
    ("wait without a unit", on_step("wait", put("wait", "3"))),
    ("wait in metres", on_step("wait", put("wait", "3 m"))),
    ("wait in words", on_step("wait", put("wait", "overnight"))),
    ("wait with a decimal comma", on_step("wait", put("wait", "1,5 h"))),
    ("wait of two times", on_step("wait", put("wait", "1 h 30 min"))),
    ("wait with a wrong unit", on_step("wait", put("wait", "3 hrs"))),
    ("wait as a list", on_step("wait", put("wait", ["1 h", "2 h"]))),
    ("empty wait", on_step("wait", put("wait", ""))),
    ("negative wait", on_step("wait", put("wait", "-3 h"))),
    ("coats that are no whole number", on_step("coat", put("coats", "2.5"))),
    ("no coats", on_step("coat", put("coats", "0"))),
    ("coats with a unit", on_step("coat", put("coats", "2 h"))),
    ("coats in words", on_step("coat", put("coats", "two"))),
    ("unknown pass", on_step("coat", put("pass", "heavy"))),
    ("unknown role", on_step("coat", put("role", "undercoat"))),
    ("unknown method", on_step("coat", put("by", "roller"))),
    ("pass and passes", on_step("coat", lambda s: s.update({"pass": "light", "passes": ["light", "light"]}))),
    ("passes that are no list", on_step("coat", lambda s: (s.pop("pass", 0), s.pop("coats", 0), s.pop("flash", 0), s.update(passes="light"))[-1])),
    ("flash without a unit", on_step("coat", put("flash", "5"))),
    ("film in minutes", on_step("coat", put("wet_film", "18 min"))),
    ("thin without an amount", on_step("coat", put("thin", {"with": "lacquer-thinner"}))),
    ("thin with ratio and share", on_step("coat", put("thin", {"ratio": "1:1", "add": "30 %"}))),
    ("thin with an unknown key", on_step("coat", put("thin", {"ratio": "1:1", "by": "volume"}))),
    ("thin by a ratio of three", on_step("coat", put("thin", {"ratio": "1:1:1"}))),
    ("thin in words", on_step("coat", put("thin", "a little"))),
    ("mixing ratio without a colon", on_step("coat", put("mix", "2"))),
    ("empty coat", on_step("coat", put("coat", ""))),
    ("coat that is a mapping", on_step("coat", put("coat", {"of": "paint"}))),
    ("on that is a mapping", on_step("coat", put("on", {"hull": "yes"}))),
    ("on that is an empty list", on_step("coat", put("on", []))),
    ("temperature of a wait without a unit", on_step("wait", put("at", "45"))),
    ("temperature of a wait as a share", on_step("wait", put("at", "45 %"))),
    ("wet that is no truth", on_step("sand", put("wet", "very"))),
    ("scribe without a size", append({"scribe": {}})),
    ("scribe with an unknown key", append({"scribe": {"width": "0.3 mm", "length": "2 mm"}})),
    ("cure by the sun", append({"cure": "sun"})),
    ("intends no defect", on_step("coat", put("intends", "beauty"))),
    ("no stack", on_top(take("stack"))),
    ("empty stack", on_top(put("stack", []))),
    ("stack that is a mapping", on_top(put("stack", {"coat": "x"}))),
    ("no parts", on_top(lambda r: (r.pop("parts", 0), r.pop("on", 0), None)[-1])),
    ("parts and on", on_top(lambda r: r.update({"on": "polystyrene"}) if "parts" in r else False)),
    ("parts that are a list", on_top(lambda r: r.update({"parts": ["hull"]}) if "parts" in r else False)),
    ("unknown key of a recipe", on_top(put("colour", "red"))),
    ("scale without a colon", on_top(put("scale", "48"))),
    ("title that is a list", on_top(put("recipe", ["a"]))),
    ("empty title", on_top(put("recipe", ""))),
    ("start that is no date", on_top(put("start", "tomorrow"))),
    ("start in a month too many", on_top(put("start", "2031-13-01"))),
    ("start on a day too many", on_top(put("start", "2031-02-30"))),
    ("start at no time of day", on_top(put("start", "2031-05-17 24:00"))),
    ("start too early", on_top(put("start", "1969-12-31"))),
    ("no sessions", on_top(put("sessions", []))),
    ("sessions that are a mapping", on_top(put("sessions", {"sat": "9:00 to 17:00"}))),
    ("day without hours", on_top(put("sessions", ["mon", "tue 9:00 to 10:00"]))),
    ("unknown day", on_top(put("sessions", "fry 9:00 to 10:00"))),
    ("hour without minutes", on_top(put("sessions", "sat 9 to 10:00"))),
    ("half days", on_top(put("sessions", "sat 9:00 to 5:00 pm"))),
    ("session without an end", on_top(put("sessions", "sat 9:00"))),
    ("session at 25 o'clock", on_top(put("sessions", "sat 9:00 to 25:00"))),
    ("two sessions in one text", on_top(put("sessions", "sat 9:00 to 10:00, sun 9:00 to 10:00"))),
    ("date that runs into hours", on_top(put("sessions", "2031-05-1710:00 to 11:00"))),
    ("days that run into each other", on_top(put("sessions", "montofri 10:00 to 11:00"))),
    ("zone in small letters", on_top(put("zone", "etc/utc"))),
    ("zone that is a path", on_top(put("zone", "../Etc/UTC"))),
    ("zone that is a list", on_top(put("zone", ["UTC"]))),
    ("part without a substrate", on_part(take("substrate"))),
    ("part with an unknown key", on_part(put("colour", "red"))),
    ("area without a unit", on_part(lambda p: (p.pop("size", 0), p.update(area="410"))[-1])),
    ("area as a length", on_part(lambda p: (p.pop("size", 0), p.update(area="410 cm"))[-1])),
    ("area and size", on_part(lambda p: p.update(area="410 cm²", size="1 × 2 × 3 cm"))),
    ("size of two edges", on_part(lambda p: (p.pop("area", 0), p.update(size="1 × 2 cm"))[-1])),
    ("lines without a size", on_part(put("lines", {}))),
    ("lines with an unknown key", on_part(put("lines", {"width": "0.3 mm", "length": "3 mm"}))),
    ("stressed perhaps", on_part(put("stressed", "perhaps"))),
    ("tested without a result", on_part(put("tested", {"wipe": "isopropanol"}))),
    ("old finish without a coat", on_part(put("finish", [{"age": "10 y"}]))),
    ("part with a slash", on_top(lambda r: r["parts"].update({"a/b": {"substrate": "polystyrene"}}) if "parts" in r else False)),
    ("label without a family", on_label(take("family"))),
    ("label with an unknown key", on_label(put("colour", "red"))),
    ("label that is a text", on_top(lambda r: r["shelf"].update({"new": "lacquer-primer"}) if isinstance(r.get("shelf"), dict) else False)),
    ("solids without a unit", on_label(put("solids", "12"))),
    ("window that is a time", on_label(put("recoat", "10 min"))),
    ("sheen that is no word", on_label(put("sheen", "shiny"))),
    ("price with a unit", on_label(put("price", "7 ml"))),
    ("figure with an unknown key", on_label(put("price", {"is": "7", "of": "a pot"}))),
    ("humidity without a unit", on_workshop(put("humidity", "50"))),
    ("temperature without a unit", on_workshop(put("temperature", "21"))),
    ("extraction as a volume", on_workshop(put("extraction", "300 m³"))),
    ("workshop with an unknown key", on_workshop(put("light", "north"))),
    ("habit that is no truth", on_workshop(put("habits", {"dust": "often"}))),
    ("acceptance without a reason", on_top(put("accept", [{"rule": "decal-on-matt"}]))),
    ("acceptance of nothing", on_top(put("accept", [{"because": "so"}]))),
    ("acceptance of rule and defect", on_top(put("accept", [{"rule": "decal-on-matt", "defect": "silvering", "because": "so"}]))),
    ("acceptance of an unknown rule", on_top(put("accept", [{"rule": "decal-on-mat", "because": "so"}]))),
    ("acceptances that are a mapping", on_top(put("accept", {"rule": "decal-on-matt", "because": "so"}))),
    # no faults
    ("start with a T", on_top(put("start", " 2032-02-29T9:05 "))),
    ("sessions", on_top(put("sessions", ["mon-fri 19:00 to 22:00", "Sat, SUNDAY and tue to wed 9:00\u201317:00", "22:00 to 01:00", "daily 0:00-24:00"]))),
    ("sessions of days", on_top(put("sessions", ["2031-05-20 none", "2031-05-24 10:00 to 16:00", "2031-05-25none"]))),
    ("one session", on_top(put("sessions", "mon, wed, fri 19:00 to 22:00"))),
    ("zone", on_top(put("zone", "America/Argentina/Buenos_Aires"))),
    ("remark", on_top(put("remark", "a word"))),
    ("wait with a no-break blank", on_step("wait", put("wait", "3\u00a0h"))),
    ("film in Greek", on_step("coat", put("wet_film", "18 \u03bcm"))),
    ("flash in seconds", on_step("coat", put("flash", "90 s"))),
    ("temperature in kelvin", on_workshop(put("temperature", "294 K"))),
    ("temperature in Fahrenheit", on_workshop(put("temperature", "70 degF"))),
    ("thin as a share", on_step("coat", put("thin", "30 %"))),
    ("thin as a ratio", on_step("coat", put("thin", "2:1"))),
    ("coats with a point", on_step("coat", lambda s: (s.pop("flash", 0), s.pop("passes", 0), s.update(coats="2.0"))[-1])),
    ("dust", append({"dust": "yes"})),
    ("a step in words", append({"do": "stir", "takes": "2 min"})),
    ("mixing ratio at a coat", on_step("coat", put("mix", "2:1"))),
    ("window with no end", on_label(put("recoat", "10 min on"))),
    ("several windows", on_label(put("recoat", ["10 min to 1 h", "48 h on"]))),
    ("a figure in its long form", on_label(put("size", {"is": "60 ml", "note": "new"}))),
    # what a schema cannot know
    ("leap day of another year", on_top(put("start", "2031-02-29"))),
    ("session of no length", on_top(put("sessions", "sat 9:00 to 9:00"))),
    ("day with hours and none", on_top(put("sessions", ["2031-05-20 none", "2031-05-20 9:00 to 10:00"]))),
    ("name of a material", on_step("coat", put("coat", "no such paint at all"))),
    ("name of a part", on_step("coat", put("on", "no such part at all"))),
    ("figure out of range", on_workshop(put("temperature", "900 °C"))),
    ("figure of another section", on_label(put("molar_volume", "90 cm³/mol"))),
    ("shares do not add up", on_label(put("solvents", {"acetone": "60 %", "toluene": "60 %"}))),
    ("material of another section", on_step("coat", put("coat", "polystyrene"))),
    ("too long a plan", on_step("wait", put("wait", "200 y"))),
    ("pauses do not match", on_step("coat", lambda s: (s.pop("passes", 0), s.update(coats="2", flash=["5 min", "5 min"]))[-1])),
    ("coats and passes differ", on_step("coat", lambda s: (s.pop("pass", 0), s.pop("flash", 0), s.update(coats="3", passes=["light", "wet"]))[-1])),
    ("masked part", on_top(lambda r: r["stack"].extend([{"mask": next(iter(r["parts"]))}, {"coat": "alkyd-enamel", "on": next(iter(r["parts"]))}]) if "parts" in r else False)),
]


def readable(text, folder, name="broken.yaml"):
    path = os.path.join(folder, name)
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    done = subprocess.run([PROGRAM, "check", "--format=line", path], capture_output=True, text=True, check=False)
    return done.returncode < 2, done.stdout


def bases():
    found = []
    for path in sorted(glob.glob("examples/*.yaml")):
        found += [d for d in documents(path) if "recipe" in d]
    return found


def check_broken(validator, folder):
    tried = agree = unknown = 0
    for name, way in WAYS:
        met = 0
        for base in bases():
            recipe = copy.deepcopy(base)
            if way(recipe) is False or recipe == base:
                continue
            met += 1
            tried += 1
            text = dump(recipe)
            good, said = readable(text, folder)
            why = fault(validator, yaml.load(text, Loader=yaml.BaseLoader))
            if good == (why is None):
                agree += 1
            elif name in CANNOT_KNOW and why is None:
                unknown += 1
            else:
                failures.append(f"{name}: the program {'reads it' if good else 'refuses it'}, the schema says {why or 'good'}\n    {said.splitlines()[:1]}")
        if not met:
            failures.append(f"{name}: no example can be broken so")
    twice = "recipe: Skiff\non: polystyrene\nstack: [{wait: 1 h, wait: 2 h}]\n"
    if readable(twice, folder)[0]:
        failures.append("a key that stands twice is read")
    return tried, agree, unknown


# --- shelves and rulebooks ------------------------------------------------------------------------------------------------

SHELVES = [
    (True, {"shelf": {"grey": {"family": "lacquer-primer", "size": "60 ml", "price": "7.50"}}}),
    (True, {"grey": {"family": "lacquer-primer"}, "red": {"family": "alkyd-enamel", "recoat": ["6 h on"]}}),
    (True, {"shelf": {"family": "lacquer-primer"}}),
    (True, {}),
    (False, {"shelf": {"grey": {"size": "60 ml"}}}),
    (False, {"shelf": {"grey": {"family": "lacquer-primer", "colour": "grey"}}}),
    (False, {"shelf": "other.yaml"}),
    (False, {"grey": "lacquer-primer"}),
    (False, {"grey": {"family": "lacquer-primer", "size": "60"}}),
    (False, ["grey"]),
]


def check_shelves(validator, folder):
    for good, shelf in SHELVES:
        with open(os.path.join(folder, "shelf.yaml"), "w", encoding="utf-8") as file:
            file.write(dump(shelf))
        read, said = readable("recipe: a\non: polystyrene\nshelf: shelf.yaml\nstack: [{wash: detergent}]\n", folder)
        why = fault(validator, shelf)
        if read != good or (why is None) != good:
            failures.append(f"shelf {dump(shelf)[:80]}: program {read}, schema {why}: {said[:200]}")
    return len(SHELVES)


SETTINGS = [
    (True, {"settings": "ours", "outermost": "yes", "at_least": "warning", "remark": "a word", "exclude": ["drafts/"],
            "workshop": {"temperature": "19 °C", "habits": {"dust": "yes"}}, "shelf": {"grey": {"family": "lacquer-primer"}}}),
    (True, {"exclude": "old/", "require": "humidity", "workshop": {"humidity": "50 %"}}), (True, {"outermost": "no"}),
    (True, {"require": ["temperature", "humidity", "air_speed", "room", "extraction", "scale", "area", "pass"], "remark": "all"}),
    (True, {"require": []}),
    (False, {"at_least": "undecided"}), (False, {"outermost": "maybe"}), (False, {"require": ["time"]}),
    (False, {"workshop": {"humidity": "50"}}), (False, {"workshops": {}}), (False, {"shelf": {"grey": {}}}),
    (True, {"sessions": ["sat 9:00 to 17:00", "2031-05-20 none"], "zone": "Etc/UTC"}), (False, {"zone": "utc"}),
    (False, {"sessions": "sat 9"}), (False, {"settings": ["a"]}), (False, {"exclude": {"old": "yes"}}), (False, {"exclude": [""]}),
]


def check_settings(validator, folder):
    place = os.path.join(folder, "settings")
    os.mkdir(place)
    with open(os.path.join(place, "a.yaml"), "w", encoding="utf-8") as file:
        file.write("recipe: a\nscale: 1:48\nparts: {hull: {substrate: polystyrene, area: 3 cm²}}\n"
                   "workshop: {temperature: 20 °C, humidity: 50 %, air_speed: 0.2 m/s, room: 30 m³, extraction: 100 m³/h}\n"
                   "stack: [{wash: detergent}]\n")
    for good, settings in SETTINGS:
        with open(os.path.join(place, "tiecoat-settings.yaml"), "w", encoding="utf-8") as file:
            file.write(dump(settings))
        done = subprocess.run([PROGRAM, "check", "--format=line", place], capture_output=True, text=True, check=False)
        why = fault(validator, settings)
        if (done.returncode < 2) != good or (why is None) != good:
            failures.append(f"settings {dump(settings)[:80]}: program {done.returncode}, schema {why}: {done.stdout[:200]}")
    return len(SETTINGS)


RULE = {
    "about": "a word", "asks": "step", "when": "step.verb is wait", "verdict": "note", "says": "a wait", "from": "practice",
    "shown_by": {"breaks": [{"on": "polystyrene", "stack": [{"wait": "1 h"}]}],
                 "holds": [{"on": "polystyrene", "stack": [{"sand": "P800"}]}]},
}


def rule(**changes):
    made = dict(copy.deepcopy(RULE), **changes)
    return {"rules": {"a-rule": {k: v for k, v in made.items() if v is not None}}}


BOOKS = [
    (True, rule()), (True, rule(note="a note", remedies=[{"do": "nothing"}])),
    (True, rule(remedies=[{"wait": "1 h"}, {"insert": {"sand": "P800"}}, {"change": {"takes": "5 min"}}])),
    (True, {"kinds": {"new-kind": {"under": "lacquer", "from": "practice"}}}),
    (True, {"retire": {"decal-on-matt": "not here"}}),
    (True, {"coatings": {"new-paint": {"kind": "lacquer", "from": "practice", "solids": "30 %", "film_light": "10 µm"}}}),
    (True, {"words": {"new-list": {"one": "the first"}}}),
    (True, {"let": {"new_let": {"asks": "recipe", "is": "3 h"}}}),
    (True, {"cautions": {"new-caution": {"says": "mind it", "codes": ["H226", "EUH066"], "from": "practice"}}}),
    (False, rule(about=None)), (False, rule(asks="paint")), (False, rule(verdict="bad")), (False, rule(because="so")),
    (False, rule(shown_by=None)), (False, rule(shown_by={"breaks": [{"on": "polystyrene", "stack": [{"wait": "1 h"}]}]})),
    (False, rule(remedies=[{"wait": "1 h", "do": "x"}])), (False, rule(remedies=[{"paint": "it"}])),
    (False, rule(remedies={"wait": "1 h"})), (False, rule(remedies=[{"remove": "coat"}])),
    (False, rule(**{"from": "hearsay"})), (False, {"rulez": {}}), (False, {"rules": ["a"]}),
    (False, {"rules": {"A Rule": copy.deepcopy(RULE)}}),
    (False, {"coatings": {"new-paint": {"from": "practice", "solids": "30 %"}}}),
    (False, {"coatings": {"new-paint": {"kind": "lacquer", "from": "practice", "solids": "30"}}}),
    (False, {"coatings": {"new-paint": {"kind": "lacquer", "from": "practice", "molar_volume": "90 cm³/mol"}}}),
    (False, {"coatings": {"new-paint": {"kind": "lacquer", "from": "practice", "colour": "red"}}}),
    (False, {"coatings": {"new-paint": {"kind": "lacquer", "from": "practice", "hazards": ["226"]}}}),
    (False, {"kinds": {"new-kind": {"kind": "lacquer", "from": "practice"}}}),
    (False, {"cautions": {"new-caution": {"from": "practice"}}}),
    (False, {"sources": {"new-source": {"title": "A book"}}}),
    (False, {"let": {"new_let": {"asks": "recipe"}}}), (False, {"let": {"New": {"asks": "recipe", "is": "3 h"}}}),
    (False, {"defaults": {"colour": {"is": "1", "from": "practice"}}}),
    (False, {"amend": {"decal-on-matt": {"verdict": "note"}}}),
]


def check_books(validator, folder):
    for number, (good, book) in enumerate(BOOKS):
        place = os.path.join(folder, f"book{number}")
        os.mkdir(place)
        with open(os.path.join(place, "book.yaml"), "w", encoding="utf-8") as file:
            file.write(dump(book))
        done = subprocess.run([PROGRAM, "rules", "--rules=" + place], capture_output=True, text=True, check=False)
        why = fault(validator, yaml.load(dump(book), Loader=yaml.BaseLoader))
        if (done.returncode == 0) != good or (why is None) != good:
            failures.append(f"rulebook {dump(book)[:100]}: program {done.returncode}, schema {why}: {done.stderr[:200]}")
    return len(BOOKS)


def main():
    recipe, shelf, settings, book = schema("recipe"), schema("shelf"), schema("settings"), schema("rulebook")
    with tempfile.TemporaryDirectory() as folder:
        recipes = check_recipes(recipe)
        check_typed(recipe)
        files = check_book(book)
        tried, agree, unknown = check_broken(recipe, folder)
        shelves, books = check_shelves(shelf, folder), check_books(book, folder)
        kept = check_settings(settings, folder)
    for line in failures[:80]:
        print(line)
    print(f"summary: {recipes} recipes, {files} rulebook files; {tried} broken recipes in {len(WAYS)} ways: {agree} agree, "
          f"{unknown} that no schema knows; {shelves} shelves, {kept} settings, {books} rulebooks; {len(failures)} faults")
    return 1 if failures else 0


sys.exit(main())
