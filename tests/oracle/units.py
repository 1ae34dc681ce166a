"""`convert` against the published factors in tests/published."""

import json
import pathlib
from fractions import Fraction

PUBLISHED = pathlib.Path(__file__).parent.parent / "published" / "units.tsv"


def check(library):
    problems = []
    rows = [line.split("\t") for line in PUBLISHED.read_text().splitlines()[1:]]
    for quantity, unit, expected, source in rows:
        # There and back: the published factor, and its inverse.
        asked = [(quantity, unit, Fraction(expected))]
        number, _, name = quantity.partition(" ")
        asked.append((f"{expected} {unit}", name, Fraction(number)))
        for text, to, wanted in asked:
            status, answer = library.call("convert", json.dumps({"quantity": text, "to": to}))
            found = json.loads(answer)
            if status != 0 or Fraction(found["quantity"]["exact"]) != wanted:
                problems.append(f"convert {text} to {to}: {answer}, expected {wanted} ({source})")
    print(f"convert: {len(rows)} published factors, each way")
    return problems
