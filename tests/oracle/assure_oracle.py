"""What `assure` answers, worked out a second time.

The bounds by all corners, and the probability by inclusion-exclusion over them, both in fractions;
and every probability by simulation, where the superfat is computed as it is defined and not by the
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
ACETIC_ACID = 2 * Fraction("12.011") + 4 * Fraction("1.0080") + 2 * Fraction("15.999")

SAMPLES = 1_000_000
DEVIATIONS = 5
# So many batches are simulated ten times as long.
LONG = 3
# Two bounds of a probability may be so far apart.
NARROW = {"uniform": 0.001, "triangular": 0.01}


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
        "distribution": chance.choice(["uniform", "uniform", "triangular"]),
    }
    if chance.random() < 0.3:
        asked["plan"]["acids"] = [{"acid": "acetic-acid", "mass": 40, "strength": 5}]
        asked["tolerances"]["acids"] = [{"strength": [4, 6], "weighing_error": 0}]
    if chance.random() < 0.5:
        for tolerance in tolerances:
            tolerance["weighing_error"] = 0
    return asked


def portions(asked, plan):
    """(1 of a fat, -1 of an alkali or 0 of an acid; mass, mass error; low, value, high), the last
    three in g KOH for 1 g."""
    found = []
    tolerances = asked["tolerances"]
    for line, own, weighed in zip(asked["plan"]["fats"], tolerances["fats"], plan["fats"]):
        low, high = (Fraction(end) / 1000 for end in line["fat"]["saponification_range"])
        value = Fraction(line["fat"]["saponification_value"]) / 1000
        error = Fraction(own["weighing_error"])
        found.append((1, exact(weighed["mass"]), error, low, value, high))
    for name, factor in (("naoh", KOH / NAOH), ("koh", Fraction(1))):
        mass = exact(plan[f"{name}_mass"])
        if mass:
            purity = asked["plan"]["alkali"][f"{name}_purity"]
            low, high = tolerances[f"{name}_purity"]
            ends = (Fraction(p) / 100 * factor for p in (low, purity, high))
            found.append((-1, mass, Fraction(0), *ends))
    for weighed in plan["acids"]:
        koh = KOH / ACETIC_ACID
        ends = (Fraction(p) / 100 * koh for p in (4, 5, 6))
        found.append((0, exact(weighed["mass"]), Fraction(0), *ends))
    return found


def superfat(batch, effects):
    sums = {1: 0, -1: 0, 0: 0}
    for (role, *_), effect in zip(batch, effects):
        sums[role] = sums[role] + effect
    return 1 - (sums[-1] - sums[0]) / sums[1]


def superfats(batch):
    """At every corner."""
    ends = [
        [m * k for m in {mass - error, mass + error} for k in {low, high}]
        for _, mass, error, low, _, high in batch
    ]
    return [superfat(batch, corner) for corner in itertools.product(*ends)]


def probability(batch, floor):
    """That (1 - floor) need - alkali + acids < 0, if all is uniform and no mass varies."""
    start, widths = Fraction(0), []
    for role, mass, error, low, _, high in batch:
        assert error == 0
        factor = {1: 1 - floor, -1: Fraction(-1), 0: Fraction(1)}[role] * mass
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


def simulated(batch, floor, distribution, generator, rounds):
    """How often the superfat was below the floor."""

    def drawn(low, peak, high):
        low, peak, high = float(low), float(peak), float(high)
        if distribution == "uniform" or low == high:
            return generator.uniform(low, high, SAMPLES)
        return generator.triangular(low, peak, high, SAMPLES)

    below = 0
    for _ in range(rounds):
        effects = [
            drawn(mass - error, mass, mass + error) * drawn(low, value, high)
            for _, mass, error, low, value, high in batch
        ]
        below += numpy.count_nonzero(superfat(batch, effects) < float(floor))
    return below / (rounds * SAMPLES)


def check(library, cases=45, seed=20):
    """The problems found; `library.call(operation, request)` gives a status and JSON."""
    chance, problems = random.Random(seed), []
    generator = numpy.random.default_rng(seed)
    exactly = between = 0
    for case in range(cases):
        many = case % 15 == 14
        asked = request(chance, 26 if many else chance.randint(1, 5))
        status, text = library.call("assure", json.dumps(asked))
        answer = json.loads(text)
        if status:
            problems.append(f"case {case}: {text}")
            continue
        plan = json.loads(library.call("plan", json.dumps(asked["plan"]))[1])
        batch = portions(asked, plan)
        floor, distribution = Fraction(asked["floor"], 100), asked["distribution"]

        def same(what, found, expected):
            if found != expected:
                problems.append(f"case {case}: {what} is {found}, not {expected}")

        if not many:
            corners = superfats(batch)
            same("worst", exact(answer["worst"]["superfat"]) / 100, min(corners))
            same("best", exact(answer["best"]["superfat"]) / 100, max(corners))
            same("lye_heavy_possible", answer["lye_heavy_possible"], min(corners) < 0)
        below = answer["below_floor"]
        low, high = exact(below["at_least"]) / 100, exact(below["at_most"]) / 100
        weighed = all(error == 0 for _, _, error, *_ in batch)
        if weighed and distribution == "uniform" and not many:
            exactly += 1
            same("probability", exact(below["exact"]) / 100, probability(batch, floor))
        elif below["method"] != "corners":
            between += 1
            if high - low > NARROW[distribution]:
                problems.append(f"case {case}: between {float(low)} and {float(high)}")
        rounds = 10 if case < LONG else 1
        found = simulated(batch, floor, distribution, generator, rounds)
        samples = rounds * SAMPLES
        slack = DEVIATIONS * math.sqrt(max(found * (1 - found), 1 / samples) / samples)
        if not float(low) - slack <= found <= float(high) + slack:
            problems.append(f"case {case}: simulated {found}, bounds {float(low)}, {float(high)}")
    print(f"assure: {cases} batches simulated, {exactly} probabilities equal, {between} enclosed")
    return problems


if __name__ == "__main__":
    from lixivium import Library

    found = check(Library(sys.argv[1]))
    print("\n".join(found))
    sys.exit(bool(found))
