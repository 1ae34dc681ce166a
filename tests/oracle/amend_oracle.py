"""`amend` and then `audit` gives exactly the target, and with the least mass that can do so.

The additions are put into the weights and these into `audit`. That nothing smaller would do is
found a second time: the targets are linear equations, so that the least lies on a corner, and
here all corners are tried, in fractions.
"""

import itertools
import json
import random
from fractions import Fraction

# Abridged standard atomic weights, IUPAC 2021 (Pure Appl. Chem. 2022, 94, 573).
NAOH = Fraction("22.990") + Fraction("15.999") + Fraction("1.0080")
KOH = Fraction("39.098") + Fraction("15.999") + Fraction("1.0080")


def exact(number):
    return Fraction(number["exact"])


def text(number):
    return str(number)


def own(i, value, iodine):
    return {"name": f"fat {i}", "saponification_value": value, "iodine_value": iodine}


def request(chance):
    """An invented batch that went wrong, and the numbers in it."""
    count = chance.randint(1, 4)
    fats = [(Fraction(chance.randint(1800, 2500), 10), chance.randint(5, 130)) for _ in range(count)]
    planned = [chance.randint(50, 400) for _ in fats]
    off = lambda mass: max(1, mass + chance.choice([0, 0, chance.randint(-40, 90)]))
    case = {
        "fats": fats,
        "planned": planned,
        "actual": [off(mass) for mass in planned],
        "superfat": chance.randint(0, 9),
        "koh_share": chance.choice([0, 0, 20, 100]),
        "purity": (chance.randint(95, 100), chance.randint(85, 95)),
        "water": chance.choice([("lye_concentration", 31), ("water_to_lye", 2), ("of_fats", 30)]),
        "count_alkali_water": chance.random() < 0.3,
        "acid": chance.choice([0, 0, 12]),
        "stage": chance.choice(["apart", "fats_mixed", "lye_made", "mixed", "mixed", "mixed"]),
        "at_hand": [
            (Fraction(chance.randint(1800, 2600), 10), chance.randint(5, 130))
            for _ in range(chance.choice([0, 1, 2, 3]))
        ],
        "iodine": chance.choice([None, None, None, chance.randint(40, 90)]),
        "targets": chance.choice([None, None, None, ["superfat"], ["superfat", "water"]]),
    }
    plan = {
        "fats": [
            {"fat": own(i, text(value), iodine), "mass": mass}
            for i, ((value, iodine), mass) in enumerate(zip(fats, planned))
        ],
        "superfat": case["superfat"],
        "alkali": {
            "koh_share": case["koh_share"],
            "naoh_purity": case["purity"][0],
            "koh_purity": case["purity"][1],
        },
        "water": {case["water"][0]: case["water"][1], "count_alkali_water": case["count_alkali_water"]},
        "acids": [{"acid": "citric-acid", "mass": case["acid"]}] if case["acid"] else [],
    }
    asked = {"plan": plan, "actual": {"fats": case["actual"]}, "stage": case["stage"]}
    if case["at_hand"]:
        asked["fats"] = [
            own(10 + i, text(value), iodine) for i, (value, iodine) in enumerate(case["at_hand"])
        ]
    if case["iodine"] is not None:
        asked["iodine_value"] = case["iodine"]
    if case["targets"]:
        asked["targets"] = case["targets"]
    return case, asked


def actual_lye(chance, asked, plan):
    """Lye weights that are off, put into the request."""
    for key in ("naoh_mass", "koh_mass", "water_mass"):
        mass = exact(plan[key])
        if mass and chance.random() < 0.6:
            asked["actual"][key] = text(round(mass * Fraction(chance.randint(85, 125), 100), 1))
    return {
        key: Fraction(asked["actual"].get(key, text(exact(plan[key]))))
        for key in ("naoh_mass", "koh_mass", "water_mass")
    }


def equations(case, lye, acid_koh):
    """Things that can be moved (name, most that can be taken back) and equations in them."""
    purity = [Fraction(p, 100) for p in case["purity"]]
    effect = [purity[0] * KOH / NAOH, purity[1]]
    targets = case["targets"] or ["superfat", "split", "water"]
    used = 1 - Fraction(case["superfat"], 100)
    fats, actual = case["fats"], [Fraction(mass) for mass in case["actual"]]
    koh = lambda fat: fat[0] / 1000

    things = []  # name, the fat or None, may be added, most taken back
    if case["at_hand"]:
        things += [(f"fat {10 + i}", fat, True, Fraction(0)) for i, fat in enumerate(case["at_hand"])]
    else:
        total = sum(case["planned"])
        mix = [Fraction(mass, total) for mass in case["planned"]]
        blend = tuple(sum(m * Fraction(fat[k]) for m, fat in zip(mix, fats)) for k in (0, 1))
        things.append(("blend", blend, True, Fraction(0)))
    if case["stage"] in ("apart", "lye_made"):
        for i, (fat, mass, planned) in enumerate(zip(fats, actual, case["planned"])):
            if mass > planned:
                things.append((f"fat {i}", fat, False, mass - planned))
    apart = case["stage"] in ("apart", "fats_mixed")
    for key in ("naoh_mass", "koh_mass", "water_mass"):
        things.append((key, None, True, lye[key] if apart else Fraction(0)))

    need = sum(mass * koh(fat) for mass, fat in zip(actual, fats))
    present = [lye["naoh_mass"] * effect[0], lye["koh_mass"] * effect[1]]
    rows = []
    if "superfat" in targets:
        row = [
            -used * koh(fat) if fat else {"naoh_mass": effect[0], "koh_mass": effect[1]}.get(name, 0)
            for name, fat, *_ in things
        ]
        rows.append((row, used * need + acid_koh - sum(present)))
    if "split" in targets:
        share = Fraction(case["koh_share"], 100)
        by = {"naoh_mass": -share * effect[0], "koh_mass": (1 - share) * effect[1]}
        rows.append(([by.get(t[0], 0) for t in things], share * present[0] - (1 - share) * present[1]))
    if "water" in targets:
        rule, number = case["water"]
        ratio = {"lye_concentration": Fraction(100 - number, number), "water_to_lye": Fraction(number)}
        ratio = ratio.get(rule, Fraction(0))
        of_fats = Fraction(number, 100) if rule == "of_fats" else Fraction(0)
        if case["count_alkali_water"]:
            per = [ratio * p - (1 - p) for p in purity]
        else:
            per = [ratio, ratio]
        by = {"naoh_mass": -per[0], "koh_mass": -per[1], "water_mass": 1}
        row = [-of_fats if fat else by[name] for name, fat, *_ in things]
        asked = of_fats * sum(actual) + per[0] * lye["naoh_mass"] + per[1] * lye["koh_mass"]
        rows.append((row, asked - lye["water_mass"]))
    if case["iodine"] is not None:
        row = [fat[1] - case["iodine"] if fat else 0 for _, fat, *_ in things]
        above = sum(mass * (fat[1] - case["iodine"]) for mass, fat in zip(actual, fats))
        rows.append((row, -above))
    return things, rows


def solved(columns, side):
    """The one solution of columns · x = side, or None."""
    height, width = len(side), len(columns)
    rows = [[column[i] for column in columns] + [side[i]] for i in range(height)]
    done = 0
    for column in range(width):
        pivot = next((r for r in range(done, height) if rows[r][column]), None)
        if pivot is None:
            return None
        rows[done], rows[pivot] = rows[pivot], rows[done]
        rows[done] = [cell / rows[done][column] for cell in rows[done]]
        for r in range(height):
            if r != done and rows[r][column]:
                factor = rows[r][column]
                rows[r] = [a - factor * b for a, b in zip(rows[r], rows[done])]
        done += 1
    if any(row[-1] for row in rows[done:]):
        return None
    return [rows[i][-1] for i in range(width)]


def least(things, rows):
    """The least mass that is moved, over all corners; None if the targets cannot be met."""
    moves = []  # column, most
    for i, (_, _, add, take) in enumerate(things):
        column = [Fraction(row[i]) for row, _ in rows]
        if add:
            moves.append((column, None))
        if take:
            moves.append(([-cell for cell in column], take))
    side = [Fraction(s) for _, s in rows]
    bounded = [i for i, (_, most) in enumerate(moves) if most is not None]
    best = None
    for at_most in itertools.chain.from_iterable(
        itertools.combinations(bounded, n) for n in range(len(bounded) + 1)
    ):
        left = [
            s - sum(moves[i][0][r] * moves[i][1] for i in at_most) for r, s in enumerate(side)
        ]
        fixed = sum(moves[i][1] for i in at_most)
        free = [i for i in range(len(moves)) if i not in at_most]
        for size in range(len(rows) + 1):
            for chosen in itertools.combinations(free, size):
                found = solved([moves[i][0] for i in chosen], left)
                if found is None or any(
                    x < 0 or (moves[i][1] is not None and x > moves[i][1])
                    for x, i in zip(found, chosen)
                ):
                    continue
                total = fixed + sum(found)
                best = total if best is None else min(best, total)
    return best


def audited(library, case, lye, answer):
    """What the weights with the additions amount to."""
    added = answer["additions"]
    fats = {f"fat {i}": [fat, Fraction(mass)] for i, (fat, mass) in enumerate(zip(case["fats"], case["actual"]))}
    for i, fat in enumerate(case["at_hand"]):
        fats[f"fat {10 + i}"] = [fat, Fraction(0)]
    for part in added["fats"]:
        fats[part["name"]][1] += exact(part["mass"])
    asked = {
        "fats": [
            {"fat": own(name, text(fat[0]), fat[1]), "mass": text(mass)}
            for name, (fat, mass) in fats.items()
        ],
        "alkalis": [
            {"alkali": word, "mass": text(lye[key] + exact(added[key])), "purity": purity}
            for word, key, purity in zip(("naoh", "koh"), ("naoh_mass", "koh_mass"), case["purity"])
        ],
        "acids": [{"acid": "citric-acid", "mass": case["acid"]}] if case["acid"] else [],
        "water_mass": text(lye["water_mass"] + exact(added["water_mass"])),
    }
    status, found = library.call("audit", json.dumps(asked))
    assert status == 0, found
    weights = sum(mass * (fat[1]) for fat, mass in fats.values()), sum(m for _, m in fats.values())
    return json.loads(found), weights


def check(library, cases=400, seed=41):
    """The problems found; `library.call(operation, request)` gives a status and JSON."""
    chance, problems = random.Random(seed), []
    amended = refused = 0
    # Citric acid takes up three hydroxides; its molar mass from C6H8O7.
    citric = 6 * Fraction("12.011") + 8 * Fraction("1.0080") + 7 * Fraction("15.999")
    for number in range(cases):
        case, asked = request(chance)
        plan = json.loads(library.call("plan", json.dumps(asked["plan"]))[1])
        lye = actual_lye(chance, asked, plan)
        things, rows = equations(case, lye, 3 * KOH * case["acid"] / citric)
        expected = least(things, rows)
        status, found = library.call("amend", json.dumps(asked))
        answer = json.loads(found)
        if expected is None:
            refused += 1
            codes = {fault["code"] for fault in answer.get("error", {}).get("faults", [])}
            if codes != {"cannot_be_amended"}:
                problems.append(f"amend {number}: {found[:300]}, expected a refusal: {asked}")
            continue
        if status:
            problems.append(f"amend {number}: {found}: {asked}")
            continue
        amended += 1
        added = answer["additions"]
        moved = sum(abs(exact(part["mass"])) for part in added["fats"])
        moved += sum(abs(exact(added[key])) for key in lye)
        if moved != expected:
            problems.append(f"amend {number}: moves {moved}, least is {expected}: {asked}")
        targets = case["targets"] or ["superfat", "split", "water"]
        audit, (iodine, fats) = audited(library, case, lye, answer)

        def same(what, found, expected):
            if found != expected:
                problems.append(f"amend {number}: {what} is {found}, not {expected}: {asked}")

        if "superfat" in targets:
            same("superfat", exact(audit["superfat"]), case["superfat"])
        if "split" in targets:
            same("split", exact(audit["koh_share_by_moles"]), case["koh_share"])
        rule, share = case["water"]
        if "water" in targets and not case["count_alkali_water"]:
            if rule == "of_fats":
                water = lye["water_mass"] + exact(added["water_mass"])
                same("water", water, fats * share / 100)
            else:
                same("water", exact(audit[rule]["low"]), share)
        if case["iodine"] is not None:
            same("iodine value", iodine, fats * case["iodine"])
        same("after", exact(answer["after"]["superfat"]), exact(audit["superfat"]))
    print(f"amend: {amended} batches audited to their targets, {refused} that cannot be amended")
    return problems
