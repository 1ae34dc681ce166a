"""Random requests about moulds, the same ones for the same seed."""

import random

from recipes import Maker


class MouldMaker(Maker):
    def length(self, low, high):
        """Between so many cm."""
        way = self.rng.randrange(4)
        if way == 0:
            return f"{self.amount(low / 2.54, high / 2.54)} in"
        if way == 1:
            return f"{self.amount(low * 10, high * 10)} mm"
        return f"{self.amount(low, high)} cm" if way == 2 else self.amount(low, high)

    def volume(self, low, high):
        way = self.rng.randrange(3)
        if way == 0:
            return f"{self.amount(low, high)} mL"
        return f"{self.amount(low / 16, high / 16)} in³" if way == 1 else self.amount(low, high)

    def density(self, low, high):
        if self.chance(3):
            return f"{self.rng.randint(int(low * 1000), int(high * 1000))} kg/m³"
        return self.rng.choice([round(self.rng.uniform(low, high), 3), f"{low} 1/{self.rng.randint(20, 90)}"]) if low >= 1 else round(self.rng.uniform(low, high), 4)

    def part(self, kinds):
        rng, kind = self.rng, self.rng.choice(kinds)
        if kind == "box":
            sides = [self.length(4, 30), self.length(4, 12), self.length(3, 12)]
            part = {"box": dict(zip(("length", "width", "height"), sides))}
        elif kind == "cylinder":
            part = {"cylinder": {"diameter": self.length(5, 12), "height": self.length(5, 40)}}
        else:
            part = {"cavities": {"count": rng.randint(1, 30)}}
            cavities = part["cavities"]
            if kind == "volume":
                cavities["volume"] = self.volume(40, 200)
            elif kind == "water_mass":
                cavities["water_mass"] = self.mass(40, 200)
                if self.chance(7):
                    cavities["water_temperature"] = rng.choice([4, "68 °F", "25.5", rng.randint(1, 99)])
            elif kind == "bar_mass":
                cavities["bar_mass"] = self.mass(50, 200)
        if kind in ("box", "cylinder") and self.chance(3):
            part[kind]["count"] = rng.randint(1, 4)
        return part

    def mould(self, kinds=("box", "cylinder", "volume", "water_mass", "bar_mass")):
        rng = self.rng
        if self.chance(4):
            mould = {"several": [self.part(kinds) for _ in range(rng.randint(1, 4))]}
            for part in mould["several"]:
                if self.chance(3):
                    part["fill"] = self.percent(30, 99)
        else:
            mould = self.part(kinds)
        if self.chance(5):
            mould["fill"] = rng.choice(["200/3", "90 %", self.percent(40, 99)])
        if self.chance(6):
            mould["waste"] = rng.choice([5, "1/2 oz", "3 %", "100/7 %", f"{self.amount(1, 9)} %"])
        if self.chance(6):
            mould["err_on"] = rng.choice(["never_overflow", "always_full"])
        if self.chance(6):
            mould["pour_temperature"] = rng.choice([15, 60, "104 °F", "100/3", rng.randint(16, 59)])
        if self.chance(3):
            mould["contraction"] = rng.choice([1, "-2 %", "1/3"])
        return mould

    def stated_density(self, name):
        stated = {}
        if self.chance(7):
            stated[name] = self.rng.choice([1, "1.03", "1030 kg/m³"])
        if self.chance(5) or not stated:
            stated[f"{name}_range"] = [self.rng.choice(["0.97", 1]), self.rng.choice([1.05, "1040 kg/m³"])]
        return stated

    def batch(self, by_share):
        """A recipe as it is made, in a batch of some hundred grams to some kilograms."""
        rng = self.rng
        count = rng.randint(1, 6)
        request = {"fats": [{"fat": self.fat()} for _ in range(count)]}
        for line in request["fats"]:
            if isinstance(line["fat"], dict) and self.chance(6):
                line["fat"]["density"] = self.density(0.86, 0.97)
                if self.chance(5):
                    line["fat"]["density_temperature"] = rng.choice([25, "40 °C", "77 °F"])
        if by_share:
            for line, part in zip(request["fats"], self.shares(count)):
                line["share"] = part
        else:
            for line in request["fats"]:
                line["mass"] = self.mass(60, 900)
        request["superfat"] = rng.choice([0, 5, "1/3 %", self.percent(1, 12)])
        if self.chance(6):
            alkali = request["alkali"] = {"koh_share": rng.choice([0, 100, "100/3", self.percent(1, 99)])}
            if self.chance(5):
                alkali |= {"naoh_purity": rng.choice([98.5, "99 %"]), "koh_purity": self.percent(85, 99)}
        way = rng.randrange(3)
        water = request["water"] = {}
        if way == 0:
            water["lye_concentration"] = self.percent(20, 42)
        elif way == 1:
            water["water_to_lye"] = rng.choice([2, "1.8:1", self.amount(1.5, 5)])
        else:
            water["of_fats"] = self.percent(30, 45)
        if self.chance(2):
            water["count_alkali_water"] = True
        if self.chance(2):
            request["stock_solution"] = {"naoh": "50 %"}
        for name, chance in (("acids", 3), ("additives", 5)):
            if self.chance(chance):
                lines = [self.acid(800) if name == "acids" else self.additive(600) for _ in range(rng.randint(1, 3))]
                for line in lines:
                    if self.chance(6):
                        room = rng.choice(["density", "displaces" if "mass" in line else "density"])
                        line[room] = self.density(1, 3) if room == "density" else self.volume(2, 20)
                request[name] = lines
        if self.chance(8):
            steps = ["0.01", "0.1 g", 0.5, 1, 5, "1/8 oz", "0.05 oz", "1/3"]
            request["scale_step"] = rng.choice(steps)
        return request

    def plan(self):
        request = self.batch(by_share=self.chance(8))
        request["mould"] = self.mould()
        if self.chance(3):
            request["mould"] |= self.stated_density("batter_density")
        return request

    def seen(self, mould):
        parts = mould.get("several") or [mould]
        counts = [next(iter(part[key] for key in ("box", "cylinder", "cavities") if key in part)).get("count", 1) for part in parts]
        full = self.rng.randint(0, sum(counts) - 1)
        seen = {"full_cavities": full}
        if full == 0 or self.chance(7):
            seen["last_cavity"] = self.rng.choice(["1/3", "40 %", self.percent(1, 99)])
        return seen

    def fill(self, only_seen=False):
        rng = self.rng
        alike = rng.choice([("box", "cylinder", "volume", "water_mass"), ("bar_mass",)])
        mould, batter = self.mould(alike), {}
        if only_seen or self.chance(4):
            if self.chance(3):
                mould = {"cavities": {"count": rng.randint(2, 20)}} | ({"waste": "2 %"} if self.chance(5) else {})
            batter |= self.seen(mould)
        way = rng.randrange(4)
        if way < 2:
            batter["plan"] = self.batch(by_share=False)
            if self.chance(3):
                batter["mass"] = self.mass(900, 1500)
        elif way == 2 or only_seen or "full_cavities" not in batter:
            batter["mass"] = self.mass(300, 9000)
        elif isinstance(mould.get("waste"), int) or "oz" in str(mould.get("waste")):
            mould.pop("waste")
        if "plan" not in batter or self.chance(2):
            if "full_cavities" not in batter or only_seen:
                batter |= self.stated_density("density")
        return {"mould": mould, "batter": batter}


def requests(count, seed, known_fats):
    """Operation and request; half of them plan."""
    maker = MouldMaker(random.Random(seed), sorted(known_fats))
    makers = [
        ("plan", maker.plan),
        ("plan", maker.plan),
        ("fill", maker.fill),
        ("calibrate", lambda: maker.fill(only_seen=True)),
    ]
    return [(name, make()) for _ in range(count // 4) for name, make in makers]
