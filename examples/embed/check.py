#!/usr/bin/env python3
"""Says what tiecoat finds in recipes, by way of its JSON: check.py RECIPE...

TIECOAT names the program, if it is not on the path. Exit status: 0 nothing found, 1 something found, 2 something could
not be read.
"""

import json
import os
import subprocess
import sys


def ask(paths):
    """The document that docs/json.md describes, and the exit status."""
    program = os.environ.get("TIECOAT", "tiecoat")
    run = subprocess.run([program, "check", "--format=json", "--", *paths], stdout=subprocess.PIPE, check=False)
    return json.loads(run.stdout) if run.stdout else None, run.returncode


def say(document):
    for message in document["unreadable"] + document["remarks"]:
        print(f"{message['file']}:{message['line'] or 0}: {message['severity']}: {message['message']}")
    for recipe in document["recipes"]:
        counts = recipe["summary"]
        found = ", ".join(f"{counts[key]} {key}" for key in ("errors", "warnings", "notes", "undecided"))
        print(f"{recipe['recipe']}: {found}")
        for finding in recipe["findings"]:
            where = f"{recipe['file']}:{finding['line'] or 0}"
            print(f"{where}: {finding['verdict']}: {finding['message']} [{finding['rule']}]")
            for remedy in finding["remedies"]:
                print(f"\tdo: {remedy['text']}")
        for caution in recipe["cautions"]:  # they belong to what was found, always
            print(f"caution: {caution['text']}")


def main(paths):
    if not paths:
        print(__doc__, file=sys.stderr)
        return 2
    document, status = ask(paths)
    if document is None:
        return 2
    say(document)
    return status


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except FileNotFoundError as trouble:
        print(f"check.py: {trouble}", file=sys.stderr)
        sys.exit(2)
