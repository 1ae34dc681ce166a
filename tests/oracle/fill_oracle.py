"""What `plan` for a mould, `fill` and `calibrate` answer, worked out a second time.

Written from the documentation of the crate alone, in fractions; figures come from core/data. The
batch on a scale is found here by trying all totals near the exact one.
"""

import json
from fractions import Fraction

import densities
import fill_requests
import plan_oracle
from compare import Near, differences, near, numbers
from densities import Spread, point, spread
from plan_oracle import GRAMS, Refused, mass, quantity, share

CENTIMETRES = {"": Fraction(1), "cm": Fraction(1), "mm": Fraction(1, 10), "in": Fraction("2.54")}
CUBIC_INCH = Fraction("2.54") ** 3
VOLUMES = {"": Fraction(1), "cm³": Fraction(1), "mL": Fraction(1), "L": Fraction(1000), "in³": CUBIC_INCH}
DENSITIES = {"": Fraction(1), "g/cm³": Fraction(1), "kg/m³": Fraction(1, 1000)}

FINEST = Fraction(1, 10**12)
UNSEEN = Fraction(1, 1000)
# Steps of the scale from the exact total: to where the promise is harder to keep, and easier.
HARDER, EASIER = 30, 100


def pi_bounds():
    """The last two convergents of π with a denominator below 2³²: one below π, one above."""

    def arctan_of_inverse(n, terms):
        return sum(Fraction((-1) ** k, (2 * k + 1) * n ** (2 * k + 1)) for k in range(terms))

    # Machin's formula; an even number of terms is too little, an odd one too much.
    low = 16 * arctan_of_inverse(5, 40) - 4 * arctan_of_inverse(239, 21)
    high = 16 * arctan_of_inverse(5, 41) - 4 * arctan_of_inverse(239, 20)
    assert high - low < Fraction(1, 10**50)
    convergents, rest = [(0, 1), (1, 0)], low
    while True:
        digit = rest // 1
        (a, b), (c, d) = convergents[-2:]
        if b + digit * d >= 2**32:
            break
        convergents.append((a + digit * c, b + digit * d))
        rest = 1 / (rest - digit)
    ends = sorted(Fraction(*pair) for pair in convergents[-2:])
    assert ends[0] < low and high < ends[1]
    return ends


PI = pi_bounds()


def celsius(given):
    if isinstance(given, str) and given.endswith("°F"):
        return (Fraction(given[:-2].strip()) - 32) * 5 / 9
    return quantity(given, {"": 1, "°C": 1})


def length(given):
    return quantity(given, CENTIMETRES)


def volume(given):
    return quantity(given, VOLUMES)


def density(given):
    return quantity(given, DENSITIES)


def on_grid(number):
    down = lambda x: x // FINEST * FINEST
    return Spread(down(number.likely + FINEST / 2), down(number.low), -down(-number.high))


def quotient(dividend, divisor):
    return on_grid(Spread(*(dividend / divisor[i] for i in (0, 2, 1))))


def times(number, factor):
    return Spread(*(part * factor for part in number))


def plus(one, other):
    return Spread(*(a + b for a, b in zip(one, other)))


class Mould:
    def __init__(self, request):
        self.request = request
        parts = request.get("several") or [request]
        self.kinds = [self.kind(part) for part in parts]
        whole = share(request.get("fill", 100))
        own = lambda part: part is not request and "fill" in part
        self.fills = [share(part["fill"]) if own(part) else whole for part in parts]
        self.counts = [count for count, _, _ in self.kinds]
        self.always_full = request.get("err_on") == "always_full"
        waste = request.get("waste", 0)
        self.wasted_share = isinstance(waste, str) and waste.endswith("%")
        self.waste = share(waste) if self.wasted_share else mass(waste)

    def kind(self, part):
        """Count, what is known of a cavity ("volume", "mass", None), how much."""
        if "box" in part:
            sides = part["box"]
            product = length(sides["length"]) * length(sides["width"]) * length(sides["height"])
            return sides.get("count", 1), "volume", point(product)
        if "cylinder" in part:
            tube = part["cylinder"]
            quarter = length(tube["diameter"]) ** 2 * length(tube["height"]) / 4
            low, high = (pi * quarter for pi in PI)
            return tube.get("count", 1), "volume", Spread((low + high) / 2, low, high)
        cavities = part["cavities"]
        if "volume" in cavities:
            return cavities["count"], "volume", point(volume(cavities["volume"]))
        if "water_mass" in cavities:
            at = celsius(cavities.get("water_temperature", 20))
            room = mass(cavities["water_mass"]) / densities.water(at)
            return cavities["count"], "volume", point(room)
        if "bar_mass" in cavities:
            return cavities["count"], "mass", point(mass(cavities["bar_mass"]))
        return cavities["count"], None, None

    def poured(self, batter):
        return batter * (1 - self.waste) if self.wasted_share else batter - self.waste

    def batter(self, poured):
        return poured / (1 - self.waste) if self.wasted_share else poured + self.waste

    def end(self, number):
        return number.high if self.always_full else number.low

    def volume(self):
        if any(what != "volume" for _, what, _ in self.kinds):
            return None
        each = [times(size, count * fill) for (count, _, size), fill in zip(self.kinds, self.fills)]
        return Spread(*map(sum, zip(*each)))

    def needs_density(self):
        return any(what == "volume" for _, what, _ in self.kinds)

    def capacities(self, batter_density):
        each = []
        for (_, what, size), fill in zip(self.kinds, self.fills):
            if what is None:
                raise Refused("missing")
            if what == "volume":
                size = Spread(*(a * b for a, b in zip(size, batter_density)))
            each.append(times(size, fill))
        return each

    def together(self, each):
        total = point(Fraction(0))
        for count, capacity in zip(self.counts, each):
            total = plus(total, times(capacity, count))
        return total

    def about(self):
        """Of water, in grams."""
        return self.together(self.capacities(point(Fraction(1)))).likely

    def sizes(self):
        """To the brim, in a unit of their own."""
        if all(kind[1:] == self.kinds[0][1:] for kind in self.kinds):
            return [Fraction(1)] * len(self.kinds)
        for unit in ("volume", "mass"):
            if all(what == unit for _, what, _ in self.kinds):
                return [size.likely for _, _, size in self.kinds]
        raise Refused("mixed_sizes")

    def filled(self, seen, each):
        """How much was filled, if each kind of cavity takes so much."""
        full, last = seen
        sizes = [size for count, size in zip(self.counts, each) for _ in range(count)]
        return sum(sizes[:full]) + (last * sizes[full] if full < len(sizes) else 0)


def batter_density(recipe, plan, request):
    """Of the batter of a planned recipe, from its parts."""
    at = celsius(request.get("pour_temperature", 40))
    room = point(Fraction(0))

    def add(weight, of_density):
        nonlocal room
        room = plus(room, times(quotient(Fraction(1), of_density), weight))

    def add_known(line, weight):
        nonlocal room
        if "density" in line:
            add(weight, point(density(line["density"])))
        else:
            part = weight / mass(line["mass"])
            room = plus(room, point(volume(line["displaces"]) * part))

    for line, weighed in zip(recipe["fats"], plan["fats"]):
        fat = line["fat"]
        if not isinstance(fat, str):
            own = "density" in fat
            fat = (density(fat["density"]), celsius(fat.get("density_temperature", 20))) if own else None
        add(weighed["mass"], densities.fat(fat, at))
    for line, weighed in zip(recipe.get("acids", []), plan["acids"]):
        if "density" in line or "displaces" in line:
            add_known(line, weighed["mass"])
            continue
        pure = weighed["mass"] * share(line.get("strength", 100))
        add(weighed["mass"] - pure, point(densities.water(at)))
        add(pure, spread(Fraction("1.4"), Fraction("0.85"), Fraction("1.8")))
    for line, weighed in zip(recipe.get("additives", []), plan["additives"]):
        if "density" in line or "displaces" in line:
            add_known(line, weighed["mass"])
        else:
            add(weighed["mass"], spread(Fraction("1.2"), Fraction("0.8"), Fraction("2.7")))
    alkali = plan["naoh_mass"] + plan["koh_mass"]
    for name in ("naoh", "koh"):
        part = plan[f"{name}_mass"] / alkali
        if part:
            if plan["lye_concentration"] > 50:
                raise Refused("lye_too_strong")
            as_water = densities.lye(name, plan["hydroxide_concentration"], at)
            as_hydroxide = densities.lye(name, plan["lye_concentration"], at)
            lye = on_grid(densities.join(as_water, as_hydroxide))
            add((alkali + plan["water_mass"]) * part, lye)
    room = times(room, 1 - share(request.get("contraction", 0)))
    return quotient(plan["batter_mass"], room)


def stated_density(holder, name):
    if name not in holder and f"{name}_range" not in holder:
        return None
    ends = [density(end) for end in holder.get(f"{name}_range", [])]
    likely = density(holder[name]) if name in holder else sum(ends) / 2
    return spread(likely, *ends)


class Batch:
    """A recipe in a mould, at any total of its fats."""

    def __init__(self, recipe, mould, known, capacities, about):
        """`about`: what the mould takes, in grams, more or less."""
        self.mould, self.known, self.capacities, self.about = mould, known, capacities, about
        fats = recipe["fats"]
        if "mass" in fats[0]:
            masses = [mass(line["mass"]) for line in fats]
            fats = [
                {"fat": line["fat"], "share": f"{100 * weight / sum(masses)} %"}
                for line, weight in zip(fats, masses)
            ]
        left_out = ("fats", "mould", "total_fats", "scale_step")
        self.recipe = {key: value for key, value in recipe.items() if key not in left_out}
        self.recipe["fats"] = fats
        self.step = mass(recipe["scale_step"]) if "scale_step" in recipe else None
        lines = recipe.get("acids", []) + recipe.get("additives", [])
        self.proportional = all("of_fats" in line for line in lines)

    def at(self, total, step=None):
        """The plan, and by how much what is poured exceeds what the mould takes."""
        recipe = self.recipe | {"total_fats": f"{total} g"}
        if step is not None:
            recipe["scale_step"] = f"{step} g"
        return self.excess(recipe)

    def excess(self, recipe):
        plan = plan_oracle.plan(recipe, self.known)
        capacity = self.mould.end(self.mould.together(self.capacities(recipe, plan)))
        return plan, self.mould.poured(plan["batter_mass"]) - capacity

    def untold(self, recipe, plan, best):
        """What a batch can miss of a full mould without the scale telling."""
        outwards = -1 if self.mould.always_full else 1
        asked = mass(recipe["total_fats"]) if "total_fats" in recipe else plan["total_fats"]
        _, before = self.excess({key: value for key, value in recipe.items() if key != "mould"})
        if outwards * (asked - best) >= 0:
            return abs(before)
        fats = []
        for line, weighed in zip(recipe["fats"], plan["fats"]):
            moved = weighed["mass"] + outwards * self.step
            moved = moved if moved > 0 else weighed["mass"]
            fats.append({"fat": line["fat"], "mass": f"{moved} g"})
        left_out = ("mould", "total_fats")
        rest = {key: value for key, value in recipe.items() if key not in left_out}
        try:
            _, after = self.excess(rest | {"fats": fats})
        except Refused:
            return Fraction(0)
        return abs(after - before)

    def exact_total(self):
        """The total that fills the mould to the last molecule, or nearly."""
        before = self.about * 2 / 3
        plan, excess = self.at(before)
        needed = self.mould.batter(self.mould.poured(plan["batter_mass"]) - excess)
        total = needed * before / plan["batter_mass"]
        if self.proportional:
            return total
        for _ in range(60):
            if total <= 0:
                raise Refused("mould_too_small")
            total = Fraction(round(total * 10**20), 10**20)
            _, next_excess = self.at(total)
            if abs(next_excess) < self.about / 10**10:
                return total
            slope = (next_excess - excess) / (total - before)
            before, excess = total, next_excess
            total -= next_excess / slope
        raise Refused("mould_too_small")

    def sized(self):
        """The exact total, and plan and excess of the batch that is weighed."""
        exact = self.exact_total()
        if self.step is None:
            return exact, *self.at(exact)
        outwards = -1 if self.mould.always_full else 1
        for index in range(HARDER, -EASIER - 1, -1):
            total = (exact // self.step + outwards * index) * self.step
            if total <= 0:
                continue
            try:
                plan, excess = self.at(total, self.step)
            except Refused:
                continue
            if outwards * excess <= 0:
                return exact, plan, excess
        raise Refused("scale_step_too_coarse")


def pour(mould, bars, poured):
    """Full cavities, share of the next one, what is left."""
    full, left = 0, poured
    for bar in (bar for count, bar in zip(mould.counts, bars) for _ in range(count)):
        if left < bar:
            return full, left / bar, Fraction(0)
        full, left = full + 1, left - bar
    return full, Fraction(0), left


def range_of(low, high):
    return {"low": low, "high": high}


def filling(mould, yields, batter_mass, recipe, planned, batch, sized, seen):
    """`recipe` and `planned`, its plan, if known; `sized`: the batch that fills the mould, if known."""
    waste_known = batter_mass is not None
    poured = mould.poured(batter_mass) if waste_known else None
    if poured is not None and poured <= 0:
        raise Refused("all_wasted")
    found_density = None
    if seen:
        each = [size * fill for size, fill in zip(mould.sizes(), mould.fills)]
        filled = mould.filled(seen, each)
        if not waste_known:
            poured = filled
        each = [point(size * poured / filled) for size in each]
    else:
        found_density = yields
        each = mould.capacities(yields or point(Fraction(1)))
    together = mould.together(each)
    capacity = mould.end(together)
    if planned and not batch.proportional:
        scale = Near(sized[0] / planned["total_fats"])
    elif waste_known:
        scale = mould.batter(capacity) / batter_mass
    else:
        scale = capacity / poured
    unseen = UNSEEN if waste_known else Fraction(0)
    if sized and not seen:
        unseen = max(unseen, abs(sized[2]), batch.step or 0)
    gap = poured - capacity
    to_the_side = gap * (1 if mould.always_full else -1) >= 0
    if planned and not seen and batch.step and to_the_side and abs(gap) > unseen:
        unseen = max(unseen, batch.untold(recipe, planned, sized[1]["total_fats"]))
    state = "full" if abs(gap) <= unseen else "short" if gap < 0 else "left_over"
    stretch = poured / capacity if state == "full" else 1
    bars = [mould.end(size) * stretch for size in each]
    count = sum(mould.counts)
    if state == "full":
        full, last, left = count, Fraction(0), Fraction(0)
    else:
        full, last, left = pour(mould, bars, poured)
    known = lambda number: number if waste_known else None
    room = mould.volume()
    rule = None
    if sized and room:
        fats = Fraction("0.4") * GRAMS["oz"] * room.likely / CUBIC_INCH
        difference = 100 * (sized[0] / fats - 1)
        difference = difference if batch.proportional else Near(difference)
        rule = {"fats": fats, "difference": difference}
    return {
        "state": state,
        "full_cavities": full,
        "last_cavity": 100 * last,
        "empty_cavities": count - full - (last > 0),
        "left_over_mass": known(left),
        "waste_mass": known(batter_mass - poured if waste_known else None),
        "poured_mass": known(poured),
        "batter_mass": batter_mass,
        "batter_density": found_density and found_density.likely,
        "batter_density_range": found_density and range_of(*found_density[1:]),
        "mould_volume": room and room.likely,
        "mould_volume_range": room and range_of(*room[1:]),
        "mould_filled": 100 * poured / capacity,
        "mould_filled_likely": 100 * poured / together.likely,
        "mould_filled_range": range_of(100 * poured / together.high, 100 * poured / together.low),
        "cavities": [
            {
                "count": kinds,
                "bar_mass": known(bar),
                "bar_mass_range": known(range_of(size.low, size.high)),
            }
            for kinds, bar, size in zip(mould.counts, bars, each)
        ],
        "scale_to_fill": scale,
        "rule_of_thumb": rule,
    }


def density_rule(mould, stated):
    """What gives the density of the batter of a recipe and its plan in this mould."""

    def of(recipe, plan):
        if stated:
            return stated
        return batter_density(recipe, plan, mould.request) if mould.needs_density() else None

    return of


def plan_for_mould(request, known):
    mould = Mould(request["mould"])
    of = density_rule(mould, stated_density(request["mould"], "batter_density"))
    capacities = lambda recipe, plan: mould.capacities(of(recipe, plan) or point(Fraction(1)))
    batch = Batch(request, mould, known, capacities, mould.about())
    by_share = "share" in request["fats"][0]
    if not by_share:
        recipe = {key: value for key, value in request.items() if key != "mould"}
        answer = plan_oracle.plan(recipe, known)
        planned_batch = batch.sized()
    else:
        planned_batch = batch.sized()
        answer = planned_batch[1]
    found = filling(mould, of(request, answer), answer["batter_mass"], request, answer, batch, planned_batch, None)
    inexact = by_share and batch.step is None and not batch.proportional
    answer = answer | {"mould": found}
    return near(answer) if inexact else answer


def fill(request, known):
    asked, given = request["batter"], request["batter"].get("plan")
    mould = Mould(request.get("mould") or given["mould"])
    stated = stated_density(asked, "density") or stated_density(mould.request, "batter_density")
    plan = plan_oracle.plan({k: v for k, v in given.items() if k != "mould"}, known) if given else None
    weight = mass(asked["mass"]) if "mass" in asked else plan and plan["batter_mass"]
    seen = seen_in(asked)
    batch = sized = scaled = None
    of = density_rule(mould, stated)
    yields = of(given, plan) if given else stated
    if given:
        if seen:
            each = [size * fill for size, fill in zip(mould.sizes(), mould.fills)]
            unit = mould.poured(weight) / mould.filled(seen, each)
            fixed = [point(size * unit) for size in each]
            capacities, about = lambda recipe, plan: fixed, mould.together(fixed).likely
        else:
            capacities = lambda recipe, plan: mould.capacities(of(recipe, plan) or point(Fraction(1)))
            about = mould.about()
        batch = Batch(given, mould, known, capacities, about)
        sized = batch.sized()
        scaled = sized[1] if batch.step or batch.proportional else near(sized[1])
    if not seen and yields is None and mould.needs_density():
        raise Refused("missing")
    return filling(mould, yields, weight, given, plan, batch, sized, seen) | {"scaled": scaled}


def seen_in(asked):
    if "full_cavities" not in asked and "last_cavity" not in asked:
        return None
    return asked.get("full_cavities", 0), share(asked.get("last_cavity", 0))


def calibrate(request, known):
    asked, given = request["batter"], request["batter"].get("plan")
    mould = Mould(request.get("mould") or given["mould"])
    stated = stated_density(asked, "density") or stated_density(mould.request, "batter_density")
    plan = plan_oracle.plan({k: v for k, v in given.items() if k != "mould"}, known) if given else None
    weight = mass(asked["mass"]) if "mass" in asked else plan["batter_mass"]
    seen, poured = seen_in(asked), mould.poured(weight)
    sizes = mould.sizes()
    filled = mould.filled(seen, [size * fill for size, fill in zip(sizes, mould.fills)])
    bars = [size * poured / filled for size in sizes]
    found = None
    if mould.volume():
        ends = [
            mould.filled(seen, [size[end] * fill for (*_, size), fill in zip(mould.kinds, mould.fills)])
            for end in (2, 1)
        ]
        low, high = (poured / end for end in ends)
        found = Spread((low + high) / 2, low, high)
    expected = density_rule(mould, stated)(given, plan) if given else stated
    cavities = [
        {
            "count": count,
            "bar_mass": bar,
            "volume": expected and bar / expected.likely,
            "volume_range": expected and range_of(bar / expected.high, bar / expected.low),
        }
        for count, bar in zip(mould.counts, bars)
    ]
    both = found and expected
    return {
        "poured_mass": poured,
        "batter_density": found and found.likely,
        "batter_density_range": found and range_of(*found[1:]),
        "expected_density": expected and expected.likely,
        "expected_density_range": expected and range_of(*expected[1:]),
        "deviation": both and 100 * (found.likely / expected.likely - 1),
        "cavities": cavities,
    }


OPERATIONS = {"plan": plan_for_mould, "fill": fill, "calibrate": calibrate}


def without_cautions(answer):
    """The cautions are sentences; nothing here works them out."""
    if isinstance(answer, dict):
        return {k: without_cautions(v) for k, v in answer.items() if "cautions" not in k}
    return [without_cautions(v) for v in answer] if isinstance(answer, list) else answer


def check(library, known, count=400, seed=1706):
    """Returns problems and, for the other faces, the calls."""
    problems, compared, refused = [], 0, {}
    calls = fill_requests.requests(count, seed, known)
    for i, (operation, request) in enumerate(calls):
        status, text = library.call(operation, json.dumps(request))
        answer = json.loads(text)
        place = f"mould {i}, {operation} {json.dumps(request, ensure_ascii=False)}"
        try:
            expected = OPERATIONS[operation](request, known)
        except Refused as refusal:
            code = str(refusal)
            refused[code] = refused.get(code, 0) + 1
            found = [fault["code"] for fault in answer.get("error", {}).get("faults", [])]
            if status != 1 or found != [code]:
                problems.append(f"{place}: {text}, expected {code}")
            continue
        if status != 0:
            problems.append(f"{place}: {text}")
            continue
        answer = without_cautions(answer)
        problems += [f"{place}: {d}" for d in differences(answer, expected)]
        compared += numbers(expected)
        problems += [f"{place}: {p}" for p in round_trip(library, operation, request, answer)]
    # Nothing here draws; a picture is the same from every face.
    pictures = [("picture", request) for operation, request in calls if operation == "fill"]
    print(f"moulds: {count} random requests, {compared} numbers compared, refused: {refused}")
    return problems, calls + pictures


def round_trip(library, operation, request, answer):
    """A plan that a mould has sized keeps its promise, and `fill` then says full."""
    if operation != "plan" or "mass" in request["fats"][0]:
        return []
    filled = Fraction(answer["mould"]["mould_filled"]["exact"])
    if request["mould"].get("err_on") == "always_full":
        kept = filled >= 100
    else:
        kept = filled <= 100
    problems = [] if kept else [f"the mould is filled to {float(filled)} %"]
    again = json.loads(library.call("fill", json.dumps({"batter": {"plan": request}}))[1])
    if again.get("state") != "full" or again["empty_cavities"] or again["last_cavity"]["value"]:
        problems.append(f"fill says {again.get('state')} of its own plan")
    return problems
