"""The densities of water and lye in core/data against other people's libraries.

Water: IAPWS-95 by the package iapws. Lye: the model of Laliberté and Cooper by the package thermo.
The rows of that model must be what thermo gives. The measured rows must agree with it where its
source has data and both are known to be good, and it must run low for strong sodium hydroxide,
which is why the library prefers measured rows.
"""

import densities
import iapws
from thermo.electrochem import Laliberte_density

CAS = {"naoh": "1310-73-2", "koh": "1310-58-3"}


def modelled(alkali, percent, celsius):
    """kg/m³"""
    fraction = float(percent) / 100
    return Laliberte_density(float(celsius) + 273.15, [fraction], [CAS[alkali]])


def check():
    problems = check_water() + check_model()
    # What is measured minus the model, in kg/m³, for kinds of lye.
    differences = {}
    for (alkali, kind), table in densities.LYE.items():
        for percent, block in table.items() if kind == "measured" else ():
            for celsius, measured in block.items():
                found = float(measured) * 1000 - modelled(alkali, percent, celsius)
                strength = "weak" if percent <= 24 else "strong"
                place = (alkali, strength, "warm" if celsius >= 40 else "cool")
                differences.setdefault(place, []).append(found)
    # Sodium hydroxide to 24 % and all potassium hydroxide agrees within 4 kg/m³.
    for place, found in differences.items():
        if place[:2] != ("naoh", "strong") and max(map(abs, found)) > 4:
            problems.append(f"lye, {place}: measured differs from the model by {found}")
    # Strong sodium hydroxide: the model is below what was measured when cool.
    low = differences["naoh", "strong", "cool"]
    if min(low) < 0 or not 8 < max(low) < 14:
        problems.append(f"strong cool sodium hydroxide: {low}")
    if max(map(abs, differences["naoh", "strong", "warm"])) > 14:
        problems.append(f"strong warm sodium hydroxide: {differences['naoh', 'strong', 'warm']}")
    rows = sum(map(len, differences.values()))
    print(f"densities: {len(densities.WATER)} of water, {rows} measured ones of lye")
    print(f"densities: strong cool sodium hydroxide is up to {max(low):.1f} kg/m³ above the model")
    return problems


def check_water():
    """All rows to the last digit that they have; between rows to 0.1 kg/m³."""
    exact = lambda celsius: iapws.IAPWS95(T=celsius + 273.15, P=0.101325).rho
    problems = []
    for celsius, row in densities.WATER.items():
        if abs(float(row) * 1000 - exact(float(celsius))) > 0.00051:
            problems.append(f"water at {celsius} °C: {float(row)}, iapws has {exact(float(celsius))}")
    for celsius in range(1, 99, 2):
        between = float(densities.water(celsius)) * 1000
        if abs(between - exact(celsius)) > 0.1:
            problems.append(f"water at {celsius} °C: {between}, iapws has {exact(celsius)}")
    return problems


def check_model():
    """All rows to the last digit that they have; between rows to 1 kg/m³."""
    problems = []
    for alkali in ("naoh", "koh"):
        for percent, block in densities.LYE[alkali, "model"].items():
            for celsius, row in block.items():
                found = modelled(alkali, percent, celsius)
                if abs(float(row) * 1000 - found) > 0.051:
                    problems.append(f"{alkali}, {percent} %, {celsius} °C: {row}, thermo has {found}")
        for percent in range(1, 50, 2):
            for celsius in (17, 30, 50):
                row = float(densities.tabulated(alkali, "model", percent, celsius)) * 1000
                if abs(row - modelled(alkali, percent, celsius)) > 1:
                    problems.append(f"{alkali}, {percent} %, {celsius} °C: {row}")
    return problems


if __name__ == "__main__":
    print("\n".join(check()))
