"""Random recipes for `plan`, the same ones for the same seed."""

import random

from plan_oracle import ACIDS


def recipes(count, seed, known_fats):
    maker = Maker(random.Random(seed), sorted(known_fats))
    return [maker.recipe() for _ in range(count)]


class Maker:
    def __init__(self, rng, known_fats):
        self.rng = rng
        self.known_fats = known_fats

    def chance(self, of_ten):
        return self.rng.randrange(10) < of_ten

    def amount(self, low, high):
        """A plain number in one of the ways in which people and programs write it."""
        rng = self.rng
        way = rng.randrange(6)
        if way == 0:
            return rng.randint(max(1, round(low)), max(1, round(high)))
        if way == 1:
            return round(rng.uniform(low, high), 1) or low
        if way == 2:
            return f"{rng.uniform(low, high):.9f}"
        if way == 3:
            return rng.uniform(low, high)
        if way == 4:
            return f"{max(1, int(rng.uniform(low, high) * 3))}/3"
        return f"{max(1, int(rng.uniform(low, high)))} {rng.randint(1, 6)}/7"

    def mass(self, low, high):
        rng = self.rng
        way = rng.randrange(5)
        if way == 0:
            return f"{self.amount(low / 28, high / 28)} oz"
        if way == 1:
            return f"{self.amount(low / 450, high / 450)} lb"
        if way == 2 and high >= 300:
            return f"{rng.randint(1, 9)} lb {rng.randint(1, 159) / 10} oz"
        if way == 3:
            return f"{self.amount(low, high)} g"
        return self.amount(low, high)

    def percent(self, low, high):
        given = self.amount(low, high)
        return f"{given} %" if self.chance(3) else given

    def fat(self):
        rng = self.rng
        if self.chance(6):
            return rng.choice(self.known_fats)
        fat = {"name": f"house fat {rng.randint(1, 999)}"}
        value = rng.uniform(95, 260)
        way = rng.randrange(3)
        if way == 0:
            fat["saponification_value"] = round(value, rng.randint(0, 9))
            if self.chance(7):
                fat["saponification_range"] = [
                    round(value * rng.uniform(0.9, 0.99), 2),
                    round(value * rng.uniform(1.01, 1.1), 2),
                ]
        elif way == 1:
            fat["koh_per_gram"] = round(value / 1000, rng.randint(3, 9))
        else:
            fat["naoh_per_gram"] = f"{value / 1403:.{rng.randint(3, 9)}f}"
        return fat

    def shares(self, count):
        """Percentages that come to exactly 100: thirds, or decimals."""
        if self.chance(3):
            return [f"100/{count} %"] * count
        cuts = sorted(self.rng.sample(range(1, 100_000), count - 1))
        return [(b - a) / 1000 for a, b in zip([0, *cuts], [*cuts, 100_000])]

    def recipe(self):
        rng = self.rng
        count = 30 if self.chance(1) else rng.randint(1, 8)
        size = rng.choice([0.05, 5, 300, 300, 2_000, 50_000, 9e11])
        request = {"fats": [{"fat": self.fat()} for _ in range(count)]}
        if self.chance(5):
            for line in request["fats"]:
                line["mass"] = self.mass(size / 2, size * 2)
        else:
            for line, share in zip(request["fats"], self.shares(count)):
                line["share"] = share
            request["total_fats"] = self.mass(size, size * count)
        request["superfat"] = rng.choice([0, 5, "99.999", "1/3 %", self.percent(0.1, 20)])
        self.add_alkali(request)
        self.add_water(request)
        if self.chance(2):
            strength = lambda: self.percent(25, 60)
            request["stock_solution"] = {
                alkali: strength() for alkali in ("naoh", "koh") if self.chance(7)
            }
        if self.chance(4):
            request["acids"] = [self.acid(size) for _ in range(rng.randint(1, 3))]
        if self.chance(4):
            request["additives"] = [self.additive(size) for _ in range(rng.randint(1, 4))]
        if self.chance(6):
            steps = [0.01, "0.1 g", 1, 5, "1/8 oz", "0.05 oz", "1/3"]
            request["scale_step"] = rng.choice(steps)
        return request

    def add_alkali(self, request):
        rng = self.rng
        if self.chance(2):
            return
        alkali = request["alkali"] = {}
        if self.chance(7):
            alkali["koh_share"] = rng.choice([0, 100, "100/3", self.percent(0.1, 99)])
            if self.chance(6):
                alkali["share_by"] = rng.choice(["moles", "mass"])
        if self.chance(6):
            alkali["naoh_purity"] = rng.choice([98.5, "0.001", self.percent(80, 99)])
        if self.chance(6):
            alkali["koh_purity"] = rng.choice([90, "1e-3 %", self.percent(80, 99)])

    def add_water(self, request):
        water = request["water"] = {}
        way = self.rng.randrange(3)
        if way == 0:
            water["lye_concentration"] = self.percent(15, 50)
        elif way == 1:
            ratio = self.amount(1, 4)
            water["water_to_lye"] = f"{ratio}:1" if self.chance(3) else ratio
        else:
            water["of_fats"] = self.percent(15, 60)
        for count in ("count_alkali_water", "count_acid_water"):
            if self.chance(3):
                water[count] = self.chance(7)

    def acid(self, size):
        line = {"acid": self.rng.choice(sorted(ACIDS))}
        if self.chance(5):
            line["mass"] = self.mass(size / 100, size / 40)
        else:
            line["of_fats"] = self.percent(0.5, 3)
        if self.chance(4):
            line["strength"] = self.percent(4, 90)
        if self.chance(5):
            line["alkali"] = self.rng.choice(["compensate", "raise_superfat"])
        return line

    def additive(self, size):
        line = {"name": self.rng.choice(["salt", "honey", "clay", "scent", "sugar"])}
        if self.chance(5):
            line["mass"] = self.mass(size / 200, size / 20)
        else:
            line["of_fats"] = self.percent(0.2, 6)
        return line
