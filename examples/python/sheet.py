"""A batch sheet from Python: reads a recipe, plans it, prints what to weigh.

    python3 sheet.py ../recipes/winter-fair.json

lixivium.py beside it says how the library is found. The recipe is an invented batch for a winter
fair.
"""

import json
import sys

from lixivium import Lixivium, LixiviumError, Number


def line(number: Number, unit: str, name: str) -> None:
    print(f"{number['value']:10.2f} {unit}  {name}")


def print_sheet(plan: dict) -> None:
    for caution in plan["cautions"]:
        print("!", caution["says"])
    line(plan["water_to_add_mass"], "g", "Water")
    line(plan["naoh_mass"], "g", "Sodium hydroxide, into the water")
    line(plan["koh_mass"], "g", "Potassium hydroxide, into the water")
    for item in plan["fats"] + plan["acids"] + plan["additives"]:
        line(item["mass"], "g", item["name"])
    line(plan["batter_mass"], "g", "Batter, all together")
    line(plan["superfat"], "%", "Superfat, as weighed")
    line(plan["lye_concentration"], "%", "Lye concentration, as weighed")


def main() -> int:
    if len(sys.argv) != 2:
        print("usage: sheet.py RECIPE.json", file=sys.stderr)
        return 2
    with open(sys.argv[1], encoding="utf-8") as file:
        recipe = json.load(file)
    try:
        print_sheet(Lixivium().call("plan", recipe))
    except LixiviumError as error:
        print(error, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
