"""What `assure` answers, worked out a second time.

The bounds by all corners, and the probability by inclusion-exclusion over them, both in fractions;
and the probability by simulation, where the superfat is computed as it is defined and not by the
linear form that the library uses.
"""

import itertools
import json
import math
import random
import sys
from fractions import Fraction

import numpy

# Abridged standard atomic weights, IUPAC 2021 (Pure Appl. Chem. 2022, 94, 573).
NAOH = Fraction("22.990") + Fraction("15.999") + Fraction("1.0080")
KOH = Fraction("39.098") + Fraction("15.999") + Fraction("1.0080")

SAMPLES = 1_000_000
DEVIATIONS = 5


def exact(number):
    return Fraction(number["exact"])


def request(chance, fats):
    """An invented batch with tolerances. Every second one weighs without error."""
    lines, tolerances = [], []
    for i in range(fats):
        low = chance.randint(1750, 2500)
        width = chance.choice([0, 20, 60, 120])
        lines.append({
            "fat": {"name": f"fat {i}", "saponification_value": f"{low + width // 2}/10",
                    "saponification_range": [f"{low}/10", f"{low + width}/10"]},
            "mass": chance.randint(20, 600),
        })
        tolerances.append({"weighing_error": chance.choice([0, 0, 1, 3])})
    koh_share = chance.choice([0, 0, 15, 100])
    naoh, koh = chance.randint(95, 99), chance.randint(85, 92)
    asked = {
        "plan": {
            "fats": lines,
            "superfat": chance.randint(0, 8),
            "alkali": {"koh_share": koh_share, "naoh_purity": naoh, "koh_purity": koh},
            "water": {"lye_concentration": 30},
            "scale_step": "0.1 g",
        },
        "tolerances": {
            "fats": tolerances,
            "naoh_purity": [naoh - 1, naoh + 1],
            "koh_purity": [koh - 2, koh + 1],
        },
        "floor": chance.choice([0, 0, 1, 3]),
    }
    if chance.random() < 0.5:
        for tolerance in tolerances:
            tolerance["weighing_error"] = 0
    return asked


def portions(asked, plan):
    """(is a fat, mass, mass error, low, high), the last two in g KOH for 1 g."""
    found = []
    tolerances = asked["tolerances"]
    for line, own, weighed in zip(asked["plan"]["fats"], tolerances["fats"], plan["fats"]):
        low, high = (Fraction(end) / 1000 for end in line["fat"]["saponification_range"])
        found.append((True, exact(weighed["mass"]), Fraction(own["weighing_error"]), low, high))
    for name, factor in (("naoh", KOH / NAOH), ("koh", Fraction(1))):
        mass = exact(plan[f"{name}_mass"])
        if mass:
            low, high = (Fraction(p) / 100 * factor for p in tolerances[f"{name}_purity"])
            found.append((False, mass, Fraction(0), low, high))
    return found


def superfats(batch):
    """At every corner."""
    ends = []
    for _, mass, error, low, high in batch:
        ends.append([m * k for m in {mass - error, mass + error} for k in {low, high}])
    for corner in itertools.product(*ends):
        need = sum(effect for (fat, *_), effect in zip(batch, corner) if fat)
        alkali = sum(effect for (fat, *_), effect in zip(batch, corner) if not fat)
        yield 1 - alkali / need


def probability(batch, floor):
    """That (1 - floor) need - alkali < 0, if no mass varies."""
    start, widths = Fraction(0), []
    for fat, mass, error, low, high in batch:
        assert error == 0
        factor = (1 - floor) * mass if fat else -mass
        start += min(factor * low, factor * high)
        if low != high:
            widths.append(abs(factor) * (high - low))
    if not widths:
        return Fraction(start < 0)
    n, total = len(widths), Fraction(0)
    for chosen in itertools.product((0, 1), repeat=n):
        above = -start - sum(w for w, c in zip(widths, chosen) if c)
        if above > 0:
            total += (-1) ** sum(chosen) * above**n
    return total / (math.factorial(n) * math.prod(widths))


def simulated(batch, floor, seed):
    generator = numpy.random.default_rng(seed)
    need, alkali = numpy.zeros(SAMPLES), numpy.zeros(SAMPLES)
    for fat, mass, error, low, high in batch:
        masses = generator.uniform(float(mass - error), float(mass + error), SAMPLES)
        effect = masses * generator.uniform(float(low), float(high), SAMPLES)
        if fat:
            need += effect
        else:
            alkali += effect
    return float(numpy.mean(1 - alkali / need < float(floor)))


def check(library, cases=60, seed=20):
    """The problems found; `library.call(operation, request)` gives a status and JSON."""
    chance, problems = random.Random(seed), []
    exactly = between = 0
    for case in range(cases):
        asked = request(chance, chance.randint(1, 5))
        status, text = library.call("assure", json.dumps(asked))
        answer = json.loads(text)
        if status:
            problems.append(f"case {case}: {text}")
            continue
        plan = json.loads(library.call("plan", json.dumps(asked["plan"]))[1])
        batch = portions(asked, plan)
        floor = Fraction(asked["floor"], 100)

        def same(what, found, expected):
            if found != expected:
                problems.append(f"case {case}: {what} is {found}, not {expected}")

        corners = list(superfats(batch))
        same("worst", exact(answer["worst"]["superfat"]) / 100, min(corners))
        same("best", exact(answer["best"]["superfat"]) / 100, max(corners))
        same("lye_heavy_possible", answer["lye_heavy_possible"], min(corners) < 0)
        below = answer["below_floor"]
        low, high = exact(below["at_least"]) / 100, exact(below["at_most"]) / 100
        if all(error == 0 for _, _, error, _, _ in batch):
            exactly += 1
            same("probability", exact(below["exact"]) / 100, probability(batch, floor))
        else:
            between += 1
        found = simulated(batch, floor, seed + case)
        slack = DEVIATIONS * math.sqrt(max(found * (1 - found), 1 / SAMPLES) / SAMPLES)
        if not float(low) - slack <= found <= float(high) + slack:
            problems.append(f"case {case}: simulated {found}, bounds {float(low)}, {float(high)}")
    print(f"assure: {cases} batches, {exactly} probabilities equal, {between} enclosed")
    return problems


if __name__ == "__main__":
    from lixivium import Library

    found = check(Library(sys.argv[1]))
    print("\n".join(found))
    sys.exit(bool(found))
