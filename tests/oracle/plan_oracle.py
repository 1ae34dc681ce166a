"""What `plan` answers, worked out a second time.

Written from the documentation of the crate alone, in fractions, so that it shares neither code
nor figures with the library. Molar masses are summed from the abridged standard atomic weights
of IUPAC 2021 (Pure Appl. Chem. 2022, 94, 573).
"""

import re
from fractions import Fraction

ATOMIC_WEIGHT = {
    "H": Fraction("1.0080"),
    "C": Fraction("12.011"),
    "O": Fraction("15.999"),
    "Na": Fraction("22.990"),
    "K": Fraction("39.098"),
}

# NIST SP 811 (2008), B.8.
GRAMS = {
    "": Fraction(1),
    "g": Fraction(1),
    "mg": Fraction(1, 1000),
    "kg": Fraction(1000),
    "oz": Fraction("453.59237") / 16,
    "lb": Fraction("453.59237"),
}

# By the name in the request: id and name in the answer, formula, and how many hydroxide ions
# one molecule takes up.
ACIDS = {
    "citric-acid": ("citric-acid", "citric acid, anhydrous", "C6H8O7", 3),
    "citric-acid-monohydrate": (
        "citric-acid-monohydrate",
        "citric acid monohydrate",
        "C6H10O8",
        3,
    ),
    "lactic-acid": ("lactic-acid", "lactic acid", "C3H6O3", 1),
    "acetic-acid": ("acetic-acid", "acetic acid", "C2H4O2", 1),
    "tartaric-acid": ("tartaric-acid", "tartaric acid", "C4H6O6", 2),
    "C12:0": ("C12:0", "lauric acid", "C12H24O2", 1),
    "palmitic": ("C16:0", "palmitic acid", "C16H32O2", 1),
    "Stearic acid": ("C18:0", "stearic acid", "C18H36O2", 1),
    "oleic-acid": ("C18:1", "oleic acid", "C18H34O2", 1),
}


class Refused(Exception):
    """The recipe cannot be made; the argument is the code of the fault."""


def molar_mass(formula):
    parts = re.findall(r"([A-Z][a-z]?)(\d*)", formula)
    return sum(ATOMIC_WEIGHT[element] * int(count or 1) for element, count in parts)


NAOH = molar_mass("NaOH")
KOH = molar_mass("KOH")


def number(text):
    """`12.5`, `1/3`, `2 1/2`."""
    return sum(Fraction(part) for part in text.split())


def quantity(given, units):
    """A number, or text whose parts each have a unit."""
    if not isinstance(given, str):
        return Fraction(repr(given))
    parts = re.findall(r"([\d.+/e -]*\d)\s*([^\d\s]*)", given)
    return sum(number(digits) * units[unit] for digits, unit in parts)


def mass(given):
    return quantity(given, GRAMS)


def share(given):
    return quantity(given, {"": Fraction(1), "%": Fraction(1)}) / 100


def ratio(given):
    return quantity(given.removesuffix(":1") if isinstance(given, str) else given, {"": 1})


def nearest(amount, step):
    """To the nearest step; halfway between two, to the upper one."""
    return amount if step is None else (amount / step + Fraction(1, 2)) // 1 * step


def down(amount, step):
    return amount if step is None else amount // step * step


def either(line, share_name, total):
    return mass(line["mass"]) if "mass" in line else share(line[share_name]) * total


def weigh_alkali(pure, purity, strength, step):
    """As bought, pure, stock solution: what the scale shows."""
    bought = pure / purity
    if strength is None:
        bought, solution = down(bought, step), None
    else:
        solution = down(bought / strength, step)
        bought = solution * strength
    return bought, bought * purity, solution


def plan(request, known_fats):
    """The answer without its cautions, numbers as fractions in the units of the answer.

    `known_fats` gives name, saponification value and its range for the fats of the catalogue.
    """
    step = mass(request["scale_step"]) if "scale_step" in request else None
    asked_total = mass(request["total_fats"]) if "total_fats" in request else None

    fats = []
    for line in request["fats"]:
        fat = line["fat"]
        if isinstance(fat, str):
            name, value, low, high = known_fats[fat]
        else:
            fat, name, value, low, high = fat["name"], fat["name"], *own_values(fat)
        weighed = nearest(either(line, "share", asked_total), step)
        if weighed == 0:
            raise Refused("scale_step_too_coarse")
        fats.append((fat, name, value, low, high, weighed))
    total = sum(weighed for *_, weighed in fats)
    # Grams of potassium hydroxide that saponify the fats at the three values of each.
    need, need_low, need_high = (
        sum(line[column] * line[5] for line in fats) / 1000 for column in (2, 3, 4)
    )

    acids, taken, compensated, acid_water = [], Fraction(0), Fraction(0), Fraction(0)
    for line in request.get("acids", []):
        weighed = nearest(either(line, "of_fats", total), step)
        strength = share(line.get("strength", 100))
        acid, name, formula, hydroxides = ACIDS[line["acid"]]
        takes = weighed * strength * hydroxides * KOH / molar_mass(formula)
        taken += takes
        if line.get("alkali", "compensate") == "compensate":
            compensated += takes
        acid_water += weighed * (1 - strength)
        acids.append({"acid": acid, "name": name, "mass": weighed})
    additives = [
        {"name": line["name"], "mass": nearest(either(line, "of_fats", total), step)}
        for line in request.get("additives", [])
    ]

    alkali = request.get("alkali", {})
    koh_share = share(alkali.get("koh_share", 0))
    if alkali.get("share_by") == "mass":
        koh_moles, naoh_moles = koh_share / KOH, (1 - koh_share) / NAOH
        koh_share = koh_moles / (koh_moles + naoh_moles)
    hydroxide_moles = ((1 - share(request["superfat"])) * need + compensated) / KOH
    stock = {k: share(v) for k, v in request.get("stock_solution", {}).items()}
    naoh, naoh_pure, naoh_solution = weigh_alkali(
        hydroxide_moles * (1 - koh_share) * NAOH,
        share(alkali.get("naoh_purity", 100)),
        stock.get("naoh"),
        step,
    )
    koh, koh_pure, koh_solution = weigh_alkali(
        hydroxide_moles * koh_share * KOH,
        share(alkali.get("koh_purity", 100)),
        stock.get("koh"),
        step,
    )
    weighed_alkali = naoh + koh
    if weighed_alkali == 0:
        raise Refused("scale_step_too_coarse")

    rule = request["water"]
    counted, reckoned = Fraction(0), weighed_alkali
    if rule.get("count_alkali_water"):
        reckoned = naoh_pure + koh_pure
        counted += weighed_alkali - reckoned
    if rule.get("count_acid_water"):
        counted += acid_water
    if "lye_concentration" in rule:
        asked_water = reckoned / share(rule["lye_concentration"]) - reckoned
    elif "water_to_lye" in rule:
        asked_water = reckoned * ratio(rule["water_to_lye"])
    else:
        asked_water = total * share(rule["of_fats"])
    if asked_water < counted:
        raise Refused("too_much_water_counted")
    in_stock = (naoh_solution - naoh if naoh_solution is not None else 0) + (
        koh_solution - koh if koh_solution is not None else 0
    )
    if asked_water - counted < in_stock:
        raise Refused("stock_too_weak")
    to_add = nearest(asked_water - counted - in_stock, step)
    water = to_add + in_stock

    naoh_moles, koh_moles = naoh_pure / NAOH, koh_pure / KOH
    left_for_fats = (naoh_moles + koh_moles) * KOH - taken
    if left_for_fats < 0:
        raise Refused("acids_exceed_alkali")
    solutions = {"naoh_solution_mass": naoh_solution, "koh_solution_mass": koh_solution}
    return {
        "fats": [
            {
                "fat": fat,
                "name": name,
                "mass": weighed,
                "share": 100 * weighed / total,
                "saponification_value": value,
            }
            for fat, name, value, _, _, weighed in fats
        ],
        "total_fats": total,
        "naoh_mass": naoh,
        "koh_mass": koh,
        "naoh_pure_mass": naoh_pure,
        "koh_pure_mass": koh_pure,
        "koh_share_by_moles": 100 * koh_moles / (naoh_moles + koh_moles),
        "water_mass": water,
        "water_to_add_mass": to_add,
        "stock_solution": solutions,
        "acids": acids,
        "additives": additives,
        "batter_mass": total
        + weighed_alkali
        + water
        + sum(line["mass"] for line in acids + additives),
        "superfat": 100 * (1 - left_for_fats / need),
        "superfat_range": {
            "low": 100 * (1 - left_for_fats / need_low),
            "high": 100 * (1 - left_for_fats / need_high),
        },
        "lye_concentration": 100 * weighed_alkali / (weighed_alkali + water),
        "hydroxide_concentration": 100 * (naoh_pure + koh_pure) / (weighed_alkali + water),
        "water_to_lye": water / weighed_alkali,
        "mould": None,
    }


def own_values(fat):
    """Saponification value of a fat of one's own, and its range."""
    if "saponification_value" in fat:
        value = quantity(fat["saponification_value"], {"": 1})
    elif "koh_per_gram" in fat:
        value = 1000 * quantity(fat["koh_per_gram"], {"": 1})
    else:
        value = 1000 * quantity(fat["naoh_per_gram"], {"": 1}) * KOH / NAOH
    if "saponification_range" in fat:
        low, high = (quantity(end, {"": 1}) for end in fat["saponification_range"])
        return value, low, high
    return value, value, value
