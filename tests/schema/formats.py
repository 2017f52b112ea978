"""The forms of a report against their schemas, against each other, and against the program's exit status.

formats.py PROGRAM: every example, every reference recipe, and some recipes made here for what those lack (open questions, an
acceptance, one that accepts nothing, a file that cannot be read, odd names). SARIF is held to the published schema, JUnit XML to
junit.xsd; each fix of the SARIF log is carried out, and the recipe must still be readable then."""

import json
import os
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

import jsonschema

HERE = os.path.dirname(os.path.abspath(__file__))
PROGRAM = os.path.abspath(sys.argv[1])
failures = []
counts = {"files": 0, "results": 0, "open": 0, "suppressed": 0, "fixes": 0, "healed": 0, "with another error": 0}

MADE = {
    "open.yaml": """\
recipe: Skiff
parts: {hull: {substrate: thermoplastic}, deck: {substrate: abs}}
shelf: {grey: {family: lacquer-primer}, navy: {family: acrylic-lacquer}}
stack:
  - wash: detergent
  - coat: grey
    role: primer
  - wait: 1 h
  - coat: navy
    role: colour
""",
    "accepted.yaml": """\
recipe: "Skiff & <sons> {0}"
on: polystyrene
stack:
  - coat: alkyd-enamel
    role: colour
    coats: 2
    pass: medium
    flash: 10 min
  - wait: 24 h
  - coat: nitrocellulose-lacquer
    role: clear
    coats: 2
    pass: wet
    flash: 5 min
accept:
  - rule: lifts-half-cured-enamel
    because: "a test panel held; 100 % of it"
  - rule: decal-on-matt
    because: there are none
""",
    "flow.yaml": "recipe: Skiff\non: polystyrene\nstack: [{coat: alkyd-enamel}, {wait: 24 h}, {coat: nitrocellulose-lacquer}]\n",
    "crlf.yaml": "recipe: Skiff\r\non: polystyrene\r\nstack:\r\n- coat: alkyd-enamel\r\n- wait: 24 h\r\n- coat: nitrocellulose-lacquer",
    "alias.yaml": "recipe: Skiff\non: steel\nstack:\n  - &a {coat: alkyd-enamel}\n  - wait: 24 h\n  - coat: nitrocellulose-lacquer\n  - wait: 1 d\n  - *a\n",
    "broken.yaml": "recipe: Skiff\non: polystyrene\nstack:\n  - coat: no-such-paint\n",
    "odd näme #1.yaml": "recipe: Skiff\non: polystyrene\nstack:\n  - wash: detergent\n",
}


def run(form, path, *options):
    done = subprocess.run([PROGRAM, "check", "--format=" + form, *options, path], capture_output=True, check=False)
    return done.returncode, done.stdout


def fail(path, what):
    failures.append(f"{path}: {what}")


def expect(path, what, one, other):
    if one != other:
        fail(path, f"{what}: {one!r}, but {other!r}")


# --- SARIF ------------------------------------------------------------------------------------------------------------


def offset(lines, line, column):
    """Of line and column in the whole text; one past its end stands for the end."""
    before = sum(len(text) for text in lines[: line - 1])
    return before + column - 1


def apply(text, replacements):
    lines = text.splitlines(keepends=True)
    for r in reversed(replacements):
        region = r["deletedRegion"]
        start = offset(lines, region["startLine"], region["startColumn"])
        end = offset(lines, region["endLine"], region["endColumn"])
        text = text[:start] + r["insertedContent"]["text"] + text[end:]
    return text


def findings_of(text, folder):
    """The level of each finding of a file by its fingerprint; None: it cannot be read."""
    path = os.path.join(folder, "fixed.yaml")
    with open(path, "w", encoding="utf-8", newline="") as out:
        out.write(text)
    status, log = run("sarif", path)
    if status > 1:
        return None
    return levels_of(json.loads(log)["runs"][0]["results"])


def levels_of(results):
    return {r["partialFingerprints"]["finding/v1"]: r["level"] for r in results}


def check_fixes(path, result, before, folder):
    with open(path, encoding="utf-8", newline="") as file:
        text = file.read()
    for fix in result["fixes"]:
        counts["fixes"] += 1
        fixed = apply(text, fix["artifactChanges"][0]["replacements"])
        after = findings_of(fixed, folder)
        if after is None:
            fail(path, f"cannot be read after the fix '{fix['description']['text']}' of {result['ruleId']}")
            continue
        counts["healed"] += result["partialFingerprints"]["finding/v1"] not in after
        counts["with another error"] += any(level == "error" and name not in before for name, level in after.items())


def level_of(finding):
    return ("open", "none") if finding["verdict"] == "undecided" else ("fail", finding["verdict"])


def check_result(path, rules, result, finding):
    expect(path, "rule of an index", rules[result["ruleIndex"]]["id"], result["ruleId"])
    expect(path, "rule", result["ruleId"], finding["rule"])
    expect(path, "kind and level", (result["kind"], result["level"]), level_of(finding))
    region = result["locations"][0]["physicalLocation"]["region"]
    expect(path, "place", (region["startLine"], region["startColumn"]), (finding["line"], finding["column"]))
    if os.path.isfile(path):
        with open(path, encoding="utf-8") as file:
            line = file.read().splitlines()[region["startLine"] - 1]
        expect(path, "snippet", region["snippet"]["text"], line[region["startColumn"] - 1:])
    expect(path, "suppressed", bool(result["suppressions"]), "acceptance" in finding)


def check_sarif(path, document, schema, folder):
    status, log = run("sarif", path)
    sarif = json.loads(log)
    whole = sarif["runs"][0]
    rules = whole["tool"]["driver"]["rules"]
    shown = dict(sarif, runs=[dict(whole, tool={"driver": dict(whole["tool"]["driver"], rules=rules if counts["files"] == 1 else [])})])
    for error in jsonschema.Draft4Validator(schema).iter_errors(shown):  # the rules are the same each time
        fail(path, f"SARIF schema: {'/'.join(map(str, error.absolute_path))}: {error.message[:200]}")
    invocation = whole["invocations"][0]
    expect(path, "exit status", invocation["exitCode"], status)
    expect(path, "success", invocation["executionSuccessful"], status < 2)
    wanted = []
    for recipe in document["recipes"]:
        both = recipe["findings"] + recipe["accepted"]
        order = lambda f: (f["line"], f["column"], f["rule"])
        wanted += sorted(both, key=order)
    results = [r for r in whole["results"] if r["ruleId"] != "unused-acceptance"]
    unused = sum(len(recipe["unused_acceptances"]) for recipe in document["recipes"])
    expect(path, "results", len(whole["results"]), len(wanted) + unused)
    for result, finding in zip(results, wanted):
        check_result(path, rules, result, finding)
        counts["results"] += 1
        counts["open"] += result["kind"] == "open"
        counts["suppressed"] += bool(result["suppressions"])
        if os.path.isfile(path):
            check_fixes(path, result, levels_of(results), folder)
    notes = [n for n in invocation["toolExecutionNotifications"] if n["level"] == "note"]
    cautions = [c for recipe in document["recipes"] for c in recipe["cautions"]]
    expect(path, "cautions", [n["descriptor"]["id"] for n in notes if "index" in n["descriptor"]], [c["id"] for c in cautions])
    if document["recipes"] and not cautions:
        fail(path, "no cautions")
    errors = [n for n in invocation["toolExecutionNotifications"] if n["level"] == "error"]
    expect(path, "errors of reading", len(errors), len(document["unreadable"]))
    prints = [(r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], r["properties"]["recipe"],
               r["partialFingerprints"]["finding/v1"]) for r in results]
    expect(path, "unlike fingerprints", len(set(prints)), len(prints))


# --- JUnit XML, JSON lines ----------------------------------------------------------------------------------------------


def check_junit(path, document, folder):
    for least in ("error", "warning", "note"):
        status, text = run("junit", path, "--at-least=" + least)
        where = os.path.join(folder, "junit.xml")
        with open(where, "wb") as out:
            out.write(text)
        done = subprocess.run(["xmllint", "--noout", "--schema", os.path.join(HERE, "junit.xsd"), where],
                              capture_output=True, text=True, check=False)
        if done.returncode:
            fail(path, "JUnit: " + done.stderr[:400])
            return
        suites = xml.fromstring(text).findall("testsuite")
        broken = 0
        for suite in suites:
            cases = suite.findall("testcase")
            expect(path, "tests", int(suite.get("tests")), len(cases))
            for attribute, tag in (("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
                expect(path, attribute, int(suite.get(attribute)), sum(c.find(tag) is not None for c in cases))
            broken = max(broken, 2 if int(suite.get("errors")) else 1 if int(suite.get("failures")) else 0)
            names = [c.get("name") for c in cases]
            expect(path, "names of cases", len(set(names)), len(names))
        expect(path, f"JUnit at {least} and exit status", broken, status)
        expect(path, "JUnit cautions", text.count(b"caution: "), sum(len(r["cautions"]) for r in document["recipes"]))


def check_lines(path, document):
    _, text = run("jsonl", path)
    lines = [json.loads(line) for line in text.decode().splitlines()]
    expect(path, "first line", lines[0]["kind"], "run")
    expect(path, "last line", lines[-1]["kind"], "end")
    expect(path, "summary", lines[-1]["summary"], document["summary"])
    for kind, key in (("recipe", "recipes"), ("unreadable", "unreadable"), ("remark", "remarks")):
        found = [{k: v for k, v in line.items() if k != "kind"} for line in lines if line["kind"] == kind]
        expect(path, f"lines of {kind}", found, document[key])


# --- fingerprints -------------------------------------------------------------------------------------------------------


def check_edits(folder):
    """A comment, a step and a longer wait elsewhere leave the names of findings as they are."""
    before = findings_of(MADE["flow.yaml"], folder)
    block = "# a word\nrecipe: Skiff\n\non: polystyrene\nstack:\n- do: look at it\n- coat: alkyd-enamel\n- wait: 25 h\n- coat: nitrocellulose-lacquer\n"
    after = findings_of(block, folder)
    if not before or not set(before) <= set(after or {}):
        fail("fingerprints", f"{sorted(before or [])} before an edit, {sorted(after or [])} after it")


def check_thresholds(folder):
    """Settings of a folder may say another threshold than those of another one."""
    for name, least in (("strict", "note"), ("lax", "error")):
        place = os.path.join(folder, "thresholds", name)
        os.makedirs(place)
        for file, text in (("tiecoat-settings.yaml", f"at_least: {least}\n"), ("open.yaml", MADE["open.yaml"])):
            with open(os.path.join(place, file), "w", encoding="utf-8") as out:
                out.write(text)
    whole = os.path.join(folder, "thresholds")
    for place in (whole, os.path.join(whole, "strict"), os.path.join(whole, "lax")):
        status, log = run("sarif", place)
        expect(place, "exit status", json.loads(log)["runs"][0]["invocations"][0]["exitCode"], status)
        _, text = run("junit", place)
        broken = any(int(s.get("failures")) for s in xml.fromstring(text).findall("testsuite"))
        expect(place, "JUnit and exit status", int(broken), status)
    expect(whole, "exit status", run("line", whole)[0], 1)


def check_repeats():
    """A file that is named twice is an artifact once."""
    path = os.path.join("examples", "ferry.yaml")
    _, log = run("sarif", path, "." + os.sep + path, path, "examples")
    uris = [a["location"]["uri"] for a in json.loads(log)["runs"][0]["artifacts"]]
    expect("a file named twice", "artifacts", len(set(uris)), len(uris))
    expect("a file named twice", "ferry.yaml", uris.count("examples/ferry.yaml"), 1)


# --- ledgers ------------------------------------------------------------------------------------------------------------


def compared(schema, place, what, *options):
    """The results of a run with a ledger by their state, after it was held against the schema and the JSON of the same run."""
    status, log = run("sarif", place, *options)
    whole = json.loads(log)
    for error in jsonschema.Draft4Validator(schema).iter_errors(whole):
        fail(what, f"SARIF schema: {'/'.join(map(str, error.absolute_path))}: {error.message[:200]}")
    other, text = run("json", place, *options)
    document = json.loads(text)
    expect(what, "exit status of SARIF and JSON", status, other)
    by_state = {}
    for result in whole["runs"][0]["results"]:
        by_state.setdefault(result.get("baselineState"), []).append(result)
    sides = {suppression["kind"] for result in by_state.get("unchanged", []) for suppression in result["suppressions"]}
    if not sides <= {"external", "inSource"}:
        fail(what, f"suppressions {sides}")
    return by_state, document, status


def written(folder, name, text):
    path = os.path.join(folder, name)
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "w", encoding="utf-8", newline="") as out:
        out.write(text)
    return path


def check_ledger(schema, folder):
    """SARIF 2.1.0, 3.27.24: baselineState is new, unchanged, updated or absent, on every result of a run or on none."""
    place, ledger = os.path.join(folder, "ledger"), "--ledger=" + os.path.join(folder, "ledger", "known-findings")
    flow = written(place, "boats/flow.yaml", MADE["flow.yaml"])
    written(place, "boats/accepted.yaml", MADE["accepted.yaml"])
    gone = written(place, "boats/old ones/crlf.yaml", MADE["crlf.yaml"])
    crlf = written(place, "boats/crlf.yaml", MADE["crlf.yaml"])
    states, document, status = compared(schema, place, "a ledger is written", ledger, "--write-ledger")
    expect("a ledger is written", "status and states", (status, set(states)), (0, {None}))
    expect("a ledger is written", "known", sum(r["suppressions"][0]["kind"] == "external" for r in states[None]), document["summary"]["known"])

    states, document, status = compared(schema, place, "nothing new", ledger)
    known = states.get("unchanged", [])
    expect("nothing new", "status", status, 0)
    expect("nothing new", "known", len(known), document["summary"]["known"])
    expect("nothing new", "known ones are suppressed", all(r["suppressions"][0]["kind"] == "external" for r in known), True)
    expect("nothing new", "what else there is", [[s["kind"] for s in r["suppressions"]] for state in states if state != "unchanged" for r in states[state]],
           [["inSource"]])
    fault = known[0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]

    os.remove(gone)
    written(place, "boats/flow.yaml", MADE["flow.yaml"].replace("24 h", "90 d"))
    written(place, "boats/new.yaml", MADE["flow.yaml"])
    with open(crlf, encoding="utf-8", newline="") as file:
        text = file.read()
    written(place, "boats/crlf.yaml", text + "\r\naccept: [{rule: lifts-half-cured-enamel, because: it held}]\r\n")
    states, document, status = compared(schema, place, "some new", ledger)
    told = [r["message"] for r in document["remarks"] if r["id"] == "ledger"]
    new = [r for r in states["new"] if not r["suppressions"]]
    expect("some new", "status", status, 1)
    expect("some new", "new", len(new), sum(len(r["findings"]) + len(r["unused_acceptances"]) for r in document["recipes"]))
    expect("some new", "known", sum(not any(s["kind"] == "inSource" for s in r["suppressions"]) for r in states["unchanged"]), document["summary"]["known"])
    expect("some new", "accepted by now", [r["ruleId"] for r in states["unchanged"] if any(s["kind"] == "inSource" for s in r["suppressions"])],
           ["lifts-half-cured-enamel"])
    absent = states["absent"]
    expect("some new", "absent, and accepted by now", len(absent) + 1, len(told))
    for result in absent:
        line = result["suppressions"][0]["location"]["physicalLocation"]["region"]["startLine"]
        with open(os.path.join(place, "known-findings"), encoding="utf-8") as file:
            entry = file.read().splitlines()[line - 1].split()
        expect("some new", "entry", entry[:3], [result["partialFingerprints"]["finding/v1"], result["level"], result["ruleId"]])
    uris = {r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for r in absent}
    expect("some new", "where they were", uris, {fault.rsplit("/", 1)[0] + "/flow.yaml", fault.rsplit("/", 1)[0] + "/old%20ones/crlf.yaml"})
    heavier = os.path.join(place, "known-findings")
    with open(heavier, encoding="utf-8") as file:
        text = file.read()
    with open(heavier, "w", encoding="utf-8") as out:
        out.write(text.replace(" error ", " note "))
    states, document, status = compared(schema, place, "weightier", ledger)
    expect("weightier", "status", status, 1)
    if not states.get("updated") or any(s["kind"] == "external" for r in states["updated"] for s in r["suppressions"]):
        fail("weightier", "what has become weightier is updated, and counts")


def check(path, schema, folder):
    counts["files"] += 1
    _, text = run("json", path)
    document = json.loads(text)
    check_sarif(path, document, schema, folder)
    check_junit(path, document, folder)
    check_lines(path, document)
    for form in ("sarif", "junit", "jsonl"):
        expect(path, f"the same {form} twice", run(form, path), run(form, path))


def main():
    with open(os.path.join(HERE, "sarif-2.1.0.json"), encoding="utf-8") as file:
        schema = json.load(file)
    with tempfile.TemporaryDirectory() as folder:
        paths = []
        for name, text in MADE.items():
            paths.append(os.path.join(folder, "made", name))
            os.makedirs(os.path.dirname(paths[-1]), exist_ok=True)
            with open(paths[-1], "w", encoding="utf-8", newline="") as out:
                out.write(text)
        paths.append(os.path.join(folder, "made"))
        paths.append("examples")
        for place in ("examples", "examples/faults", "tests/reference/practice", "tests/reference/recipes"):
            paths += sorted(os.path.join(place, n) for n in os.listdir(place) if n.endswith(".yaml"))
        for path in paths:
            check(path, schema, folder)
        check_edits(folder)
        check_thresholds(folder)
        check_repeats()
        check_ledger(schema, folder)
    if counts["healed"] < 0.9 * counts["fixes"]:
        fail("formats.py", f"of {counts['fixes']} fixes only {counts['healed']} take their finding away")
    for what in ("open", "suppressed", "fixes", "healed"):
        if not counts[what]:
            fail("formats.py", f"no {what} was met: the recipes made here no longer bring it up")
    for line in failures[:60]:
        print(line)
    print("summary: " + ", ".join(f"{count} {what}" for what, count in counts.items()) + f", {len(failures)} faults")
    return 1 if failures else 0


sys.exit(main())
