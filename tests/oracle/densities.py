"""Densities from the published tables in core/data, interpolated a second time.

A density is a spread: likely, low, high, in g/cm³.
"""

import csv
import pathlib
from fractions import Fraction
from typing import NamedTuple

DATA = pathlib.Path(__file__).parents[2] / "core" / "data"


class Spread(NamedTuple):
    likely: Fraction
    low: Fraction
    high: Fraction


def spread(likely, *others):
    numbers = [likely, *others]
    return Spread(likely, min(numbers), max(numbers))


def point(number):
    return Spread(number, number, number)


def rows(name):
    with open(DATA / name, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file, delimiter="\t"))


def line(points, x):
    """On the straight line between the neighbours of `x` in a dictionary of points."""
    if x in points:
        return points[x]
    below = max(at for at in points if at < x)
    above = min(at for at in points if at > x)
    part = (x - below) / (above - below)
    return points[below] * (1 - part) + points[above] * part


WATER = {Fraction(r["temperature"]): Fraction(r["kg_per_m3"]) / 1000 for r in rows("water_density.tsv")}
LYE = {}
for row in rows("lye_density.tsv"):
    table = LYE.setdefault((row["alkali"], row["kind"]), {})
    block = table.setdefault(Fraction(row["concentration"]), {})
    block[Fraction(row["temperature"])] = Fraction(row["kg_per_m3"]) / 1000


def water(celsius):
    return line(WATER, celsius)


def tabulated(alkali, kind, percent, celsius):
    table = LYE[alkali, kind]
    near = {at: line(block, celsius) for at, block in table.items() if abs(at - percent) <= 5}
    return line(near, percent)


def lye(alkali, percent, celsius):
    model = lambda percent, celsius: tabulated(alkali, "model", percent, celsius)
    inferred = Fraction(0)
    if alkali == "naoh":
        likely = tabulated(alkali, "measured", percent, celsius)
    else:
        inside = min(percent, Fraction(40))
        stronger = model(percent, Fraction(18)) - model(inside, Fraction(18))
        expanded = model(percent, Fraction(18)) - model(percent, celsius)
        likely = tabulated(alkali, "measured", inside, Fraction(18)) + stronger - expanded
        inferred = abs(expanded) / 2 + stronger / 10
    doubt = likely / 1000 + inferred
    return spread(likely, likely - doubt, likely + doubt, model(percent, celsius))


def join(one, other):
    return Spread(one.likely, min(one.low, other.low), max(one.high, other.high))


FATS = {}
for row in rows("fat_values.tsv"):
    if row["property"] == "relative_density" and row["fat"] not in FATS:
        of_water = water(Fraction(row["reference_temperature"]))
        low, high = (Fraction(row[end]) * of_water for end in ("low", "high"))
        FATS[row["fat"]] = (low, high, Fraction(row["temperature"]))


def fat(given, celsius):
    """`given`: an id, or (density, temperature) of a fat of one's own, or None."""
    likely = None
    if given is None or given not in FATS and isinstance(given, str):
        likely, low, high, at = map(Fraction, ("0.915", "0.89", "0.98", "20"))
    elif isinstance(given, str):
        low, high, at = FATS[given]
    else:
        low, high, at = given[0], given[0], given[1]
    likely = (low + high) / 2 if likely is None else likely
    least, usual, most = (Fraction(n, 10**5) * (celsius - at) for n in (65, 68, 70))
    falls = spread(usual, least, most)
    return Spread(likely - falls.likely, low - falls.high, high - falls.low)
