"""Compares the library with a second implementation, published figures and other tables.

    run.py LIBRARY [NODE_PACKAGE]

LIBRARY is liblixivium; with NODE_PACKAGE, the folder of the WASM package for Node, the same
requests go through that too and the answers must be the same.
"""

import copy
import json
import pathlib
import re
import subprocess
import sys
from fractions import Fraction

import amend_oracle
import assure_oracle
import fill_oracle
import molar_masses
import plan_oracle
import published_densities
import recipes
import units
from compare import differences, numbers
from lixivium import Library

HERE = pathlib.Path(__file__).parent
REQUESTS = HERE.parent / "requests"
RECIPES = 500
SEED = 1823


def known_fats(library):
    """The catalogue: name, saponification value and its range of each fat."""
    status, answer = library.call("fats", "{}")
    assert status == 0, answer
    known = {}
    for fat in json.loads(answer)["fats"]:
        exact = lambda number: number and Fraction(number["exact"])
        value, ends = exact(fat["saponification_value"]), fat["saponification_range"]
        # A fat of which only one value is published has no range.
        low, high = (exact(ends.get(end)) or value for end in ("low", "high"))
        known[fat["id"]] = (fat["name"], value, low, high)
    return known


def check_recipes(library):
    """Returns problems and, for the other faces, the requests."""
    problems, compared, refused = [], 0, {}
    known = known_fats(library)
    requests = recipes.recipes(RECIPES, SEED, known)
    control = None
    for i, request in enumerate(requests):
        status, text = library.call("plan", json.dumps(request))
        answer = json.loads(text)
        try:
            expected = plan_oracle.plan(request, known)
        except plan_oracle.Refused as refusal:
            code = str(refusal)
            refused[code] = refused.get(code, 0) + 1
            found = [fault["code"] for fault in answer.get("error", {}).get("faults", [])]
            if status != 1 or found != [code]:
                problems.append(f"recipe {i}: {text}, expected {code}: {json.dumps(request)}")
            continue
        if status != 0:
            problems.append(f"recipe {i}: {text}: {json.dumps(request)}")
            continue
        if not answer.pop("cautions"):
            problems.append(f"recipe {i}: no caution")
        problems += [f"recipe {i}: {d}" for d in differences(answer, expected)]
        compared += numbers(expected)
        control = control or (answer, expected)
    problems += check_control(*control)
    print(f"plan: {len(requests)} random recipes, {compared} numbers compared, refused: {refused}")
    return problems, requests


def check_control(answer, expected):
    """The comparison itself: one altered number must be seen, exact or double."""
    problems = []
    altered = copy.deepcopy(expected)
    altered["naoh_pure_mass"] += Fraction(1, 10**40)
    if not differences(answer, altered):
        problems.append("control: an altered expectation was not seen")
    altered = copy.deepcopy(answer)
    altered["batter_mass"]["value"] *= 1 + 2**-52
    if not differences(altered, expected):
        problems.append("control: an altered last bit was not seen")
    return problems


def check_malformed(library):
    """Each bad request has exactly the faults that stand beside it, each with its sentence."""
    problems, faults = [], 0
    for number, line in enumerate(malformed(), 1):
        status, text = library.call(line["operation"], line["request"])
        found = json.loads(text).get("error", {}).get("faults", [])
        places = sorted([fault["code"], fault["at"]] for fault in found)
        if status != 1 or places != sorted(line["faults"]):
            problems.append(f"malformed.jsonl:{number}: {text}, expected {line['faults']}")
        for fault in found:
            if not re.fullmatch("[a-z0-9_]+", fault["code"]) or len(fault["says"]) < 10:
                problems.append(f"malformed.jsonl:{number}: {fault}")
        faults += len(found)
    print(f"malformed requests: {number}, {faults} faults")
    return problems


def malformed():
    return map(json.loads, (REQUESTS / "malformed.jsonl").read_text().splitlines())


def survives_parsing(request):
    """Whether JavaScript values can say what this text says: no slip of JSON, no key twice."""
    try:
        return json.dumps(json.loads(request), ensure_ascii=False) == request
    except (ValueError, UnicodeEncodeError):
        return False


def check_node(library, package, requests, mould_calls):
    """The WASM package gives the answers of the C library, faults included."""
    calls = [["plan", request] for request in requests] + mould_calls
    calls += [
        [line["operation"], json.loads(line["request"])]
        for line in malformed()
        # Of values that are nested too deep the parser of the face itself complains.
        if survives_parsing(line["request"]) and line["faults"] != [["too_deep", ""]]
    ]
    node = subprocess.run(
        ["node", HERE / "ask.cjs", package],
        input=json.dumps(calls),
        capture_output=True,
        text=True,
        check=True,
    )
    # JavaScript writes whole doubles without a point, as shortest digits and not as integers.
    as_doubles = lambda text: json.loads(text, parse_int=float)
    answers = as_doubles(node.stdout)
    print(f"WASM: {len(answers)} answers compared with those of the C library")
    if len(answers) != len(calls):
        return [f"WASM: {len(answers)} answers to {len(calls)} requests"]
    return [
        f"WASM, {operation} {request}: {answer}, C: {expected}"
        for (operation, request), answer in zip(calls, answers)
        if answer != (expected := as_doubles(library.call(operation, json.dumps(request))[1]))
    ]


def main(path, package=None):
    library = Library(path)
    problems, requests = check_recipes(library)
    problems += units.check(library)
    problems += molar_masses.check()
    problems += published_densities.check()
    problems += check_malformed(library)
    problems += assure_oracle.check(library)
    problems += amend_oracle.check(library)
    found, mould_calls = fill_oracle.check(library, known_fats(library))
    problems += found
    if package:
        problems += check_node(library, package, requests, mould_calls)
    for problem in problems[:20]:
        print(problem[:2000], file=sys.stderr)
    if problems:
        sys.exit(f"{len(problems)} problems")


main(*sys.argv[1:])
