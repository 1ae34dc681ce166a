"""The atomic weights and fatty acids in core/data against a table and a rule from elsewhere.

The table is that of the package periodictable, whose weights have more digits than the abridged
ones of core/data: they must agree within the uncertainty that core/data states.
"""

import csv
import pathlib

import periodictable
import plan_oracle

DATA = pathlib.Path(__file__).parents[2] / "core" / "data"


def rows(name):
    with open(DATA / name, newline="") as file:
        yield from csv.DictReader(file, delimiter="\t")


def check():
    problems, count = [], 0
    for row in rows("atomic_weights.tsv"):
        weight, uncertainty = float(row["weight"]), float(row["uncertainty"])
        other = getattr(periodictable, row["symbol"]).mass
        if not abs(weight - other) <= uncertainty:
            problems.append(f"{row['symbol']}: {weight}, periodictable has {other}")
        if float(plan_oracle.ATOMIC_WEIGHT.get(row["symbol"], weight)) != weight:
            problems.append(f"{row['symbol']}: {weight}, the second implementation differs")
        count += 1
    acids = 0
    for row in rows("fatty_acids.tsv"):
        carbon, hydrogen, oxygen, double_bonds, hydroxyls = (
            int(row[column])
            for column in ("carbon", "hydrogen", "oxygen", "double_bonds", "hydroxyls")
        )
        # A carboxylic acid of an open chain; C18:1 says 18 carbon atoms and 1 double bond.
        if hydrogen != 2 * (carbon - double_bonds) or oxygen != 2 + hydroxyls:
            problems.append(f"{row['id']}: C{carbon}H{hydrogen}O{oxygen} is no such acid")
        if not row["id"].startswith(f"C{carbon}:{double_bonds}"):
            problems.append(f"{row['id']}: {carbon} carbon atoms, {double_bonds} double bonds")
        acids += 1
    print(f"molar masses: {count} atomic weights, {acids} fatty acids")
    return problems
