"""The functions of the add-in. `calc/describe` makes the IDL and the function wizard of them."""

import functools
import inspect

import lixivium_cells as cells
import lixivium_library as library
from lixivium_cells import Wrong, is_empty

# The name of the add-in: a formula says LXV.PLAN.
ADD_IN = "LXV"

# Cautions that ask whether the request is meant so. Where a cell shows one number of an answer, it
# shows such a question in place of the number.
QUESTIONS = ("fraction_for_percent",)

FATS = (
    "A column of fats and one of masses, in g or as text with a unit. With the headings fat, mass "
    "or share, saponification_value, saponification_low, saponification_high in the first row: "
    "these columns, in any order."
)
SETTINGS = (
    "Rows of a place and its value, as in a request: superfat, water.lye_concentration, "
    "alkali.naoh_purity, scale_step, mould.box.length and so on."
)
WHAT = "One place of the answer, such as {}. Left out: a block of all that matters."
ROWS = "How many rows the block has; those not needed are empty. Left out: as many as needed."

FUNCTIONS = {}


def function(says, **arguments):
    """Puts a function into the add-in: what it does, and what each argument is."""

    def register(body):
        @functools.wraps(body)
        def guarded(*given):
            try:
                return body(*given)
            except (Wrong, library.Unavailable) as fault:
                reason = str(fault)
            except library.Refused as refused:
                reason = cells.sentences(refused.faults)
            except Exception as defect:
                reason = "a defect of the add-in: {}: {}".format(type(defect).__name__, defect)
            rows = dict(zip(arguments, given)).get("rows")
            return cells.as_high_as(reason, rows)

        guarded.says, guarded.arguments = says, arguments
        guarded.gives_block = "rows" in arguments
        assert list(inspect.signature(body).parameters) == list(arguments), body.__name__
        FUNCTIONS[body.__name__] = guarded
        return guarded

    return register


def ask(operation, request, places=(), inside=""):
    """An answer; faults become a text that names the rows of the range."""
    try:
        return library.call(operation, request)
    except library.Refused as refused:
        raise Wrong(cells.sentences(refused.faults, places, inside))


def batch(fats, settings):
    """The request of a plan, and the rows in which its fats stand."""
    request = cells.tree(settings, "settings")
    lines, places = cells.fats(fats)
    request["fats"] = lines
    return request, places


def shown(answer, what, rows, block):
    """One place of an answer, or all that matters."""
    if is_empty(what):
        return cells.of_height(tuple(block(answer)), rows)
    for caution in answer.get("cautions", ()):
        if caution["code"] in QUESTIONS:
            raise Wrong(caution["says"])
    return cells.of_height(cells.cells(cells.find(answer, what)), rows)


@function(
    "Plans a batch: what to weigh, what it amounts to, and what to mind.",
    fats=FATS,
    settings=SETTINGS,
    what=WHAT.format("naoh_mass"),
    rows=ROWS,
)
def PLAN(fats, settings, what=None, rows=None):
    request, places = batch(fats, settings)
    return shown(ask("plan", request, places), what, rows, plan_block)


def plan_block(answer):
    yield from weights(answer)
    yield "Batter", cells.cell(answer["batter_mass"]), "g"
    yield "Superfat", cells.cell(answer["superfat"]), "%"
    yield "Superfat, lowest", cells.cell(answer["superfat_range"]["low"]), "%"
    yield "Superfat, highest", cells.cell(answer["superfat_range"]["high"]), "%"
    yield "Lye concentration", cells.cell(answer["lye_concentration"]), "%"
    yield "Water to lye", cells.cell(answer["water_to_lye"]), "to 1"
    if answer["mould"]:
        yield from filling(answer["mould"])
    yield from cautions(answer)


def weights(answer):
    """What goes on the scale, in the order of the bench."""
    for part in answer["fats"] + answer["acids"] + answer["additives"]:
        yield part["name"], cells.cell(part["mass"]), "g"
    for alkali, name in ("naoh", "Sodium hydroxide"), ("koh", "Potassium hydroxide"):
        solution = answer["stock_solution"][alkali + "_solution_mass"]
        if solution:
            yield name + " solution", cells.cell(solution), "g"
        elif answer[alkali + "_mass"]["exact"] != "0":
            yield name, cells.cell(answer[alkali + "_mass"]), "g"
    yield "Water", cells.cell(answer["water_to_add_mass"]), "g"


def filling(answer):
    yield "Mould filled", cells.cell(answer["mould_filled"]), "%"
    yield "Full cavities", cells.cell(answer["full_cavities"]), ""
    yield "The next cavity", cells.cell(answer["last_cavity"]), "%"
    yield "Left over", cells.cell(answer["left_over_mass"]), "g"
    yield "Times the batch to fill it", cells.cell(answer["scale_to_fill"]), ""


def cautions(answer):
    inner = (answer.get("mould") or {}).get("mould_cautions", [])
    for caution in answer.get("cautions", []) + answer.get("mould_cautions", []) + inner:
        yield "Mind", caution["says"], ""


@function(
    "What to mind about a batch, one sentence a row.",
    fats=FATS,
    settings=SETTINGS,
    rows=ROWS,
)
def CAUTIONS(fats, settings, rows=None):
    request, places = batch(fats, settings)
    answer = ask("plan", request, places)
    return cells.of_height(tuple((says,) for _, says, _ in cautions(answer)), rows)


@function(
    "How safe a batch is: the smallest and the largest superfat over all that is not known "
    "exactly, and the most alkali that is safe.",
    fats=FATS,
    settings=SETTINGS,
    tolerances="Rows of a place and its value, as in a request: floor, tolerances.weighing_error, "
    "and tolerances.naoh_purity with two values from low to high. Left out: the published ranges "
    "of the fats alone.",
    what=WHAT.format("worst.superfat"),
    rows=ROWS,
)
def ASSURE(fats, settings, tolerances=None, what=None, rows=None):
    request = cells.tree(tolerances, "tolerances")
    request["plan"], places = batch(fats, settings)
    return shown(ask("assure", request, places, "plan"), what, rows, assure_block)


def assure_block(answer):
    yield "Superfat", cells.cell(answer["superfat"]), "%"
    yield "Superfat, worst case", cells.cell(answer["worst"]["superfat"]), "%"
    yield "Superfat, best case", cells.cell(answer["best"]["superfat"]), "%"
    yield "Free alkali possible", "yes" if answer["lye_heavy_possible"] else "no", ""
    for alkali, name in ("naoh", "sodium hydroxide"), ("koh", "potassium hydroxide"):
        if answer["safe_{}_mass".format(alkali)]:
            safe = cells.cell(answer["safe_{}_mass".format(alkali)])
            yield "Most {} that is safe".format(name), safe, "g"
    yield "Superfat to plan", cells.cell(answer["superfat_for_floor"]), "%"
    for spread in answer["spreads"]:
        name = "Spread: {}, {}".format(spread["name"], spread["input"].replace("_", " "))
        yield name, cells.cell(spread["share"]), "%"
    yield from cautions(answer)


@function(
    "How full a batch makes a mould, and the weights that fill it.",
    fats=FATS,
    settings=SETTINGS + " The mould stands in them too.",
    what=WHAT.format("scale_to_fill"),
    rows=ROWS,
)
def FILL(fats, settings, what=None, rows=None):
    plan, places = batch(fats, settings)
    answer = ask("fill", {"batter": {"plan": plan}}, places, "batter.plan")
    return shown(answer, what, rows, fill_block)


def fill_block(answer):
    yield from filling(answer)
    yield "To fill it, weigh", "", ""
    yield from weights(answer["scaled"])
    yield from cautions(answer)
    yield from cautions(answer["scaled"])


@function(
    "Sodium hydroxide for fats, as weighed, in g.",
    fats=FATS,
    superfat="Share of the fats that stays unsaponified: 5 means 5 %.",
    purity="Share of sodium hydroxide in the product as bought: 98.5 means 98.5 %. Left out: 100 %.",
    scale_step="The step of the scale, in g, to which alkali is rounded down. Left out: no rounding.",
)
def NAOH(fats, superfat, purity=None, scale_step=None):
    return alkali(fats, superfat, {"naoh_purity": purity}, scale_step, "naoh_mass")


@function(
    "Potassium hydroxide for fats, as weighed, in g.",
    fats=FATS,
    superfat="Share of the fats that stays unsaponified: 5 means 5 %.",
    purity="Share of potassium hydroxide in the product as bought: 90 means 90 %. Left out: 100 %.",
    scale_step="The step of the scale, in g, to which alkali is rounded down. Left out: no rounding.",
)
def KOH(fats, superfat, purity=None, scale_step=None):
    return alkali(fats, superfat, {"koh_share": 100, "koh_purity": purity}, scale_step, "koh_mass")


def alkali(fats, superfat, bought, scale_step, what):
    lines, places = cells.fats(fats)
    request = {
        "fats": lines,
        "superfat": superfat,
        "alkali": bought,
        # A plan needs a rule for the water; the alkali does not depend on it.
        "water": {"water_to_lye": 2},
        "scale_step": scale_step,
    }
    return shown(ask("plan", given(request), places), what, None, None)


def given(request):
    """The request without what was left out."""
    if isinstance(request, dict):
        return {name: given(value) for name, value in request.items() if not is_empty(value)}
    return cells.plain(request)


@function(
    "The superfat that weights amount to, in percent; below 0 there is free alkali.",
    fats=FATS,
    naoh="Sodium hydroxide as weighed, in g or as text with a unit.",
    naoh_purity="Share of sodium hydroxide in the product as bought. Left out: 100 %.",
    koh="Potassium hydroxide as weighed, in g or as text with a unit. Left out: none.",
    koh_purity="Share of potassium hydroxide in the product as bought. Left out: 100 %.",
)
def SUPERFAT(fats, naoh, naoh_purity=None, koh=None, koh_purity=None):
    lines, places = cells.fats(fats)
    alkalis = [
        given({"alkali": name, "mass": mass, "purity": purity})
        for name, mass, purity in (("naoh", naoh, naoh_purity), ("koh", koh, koh_purity))
        if not is_empty(mass)
    ]
    request = {"fats": lines, "alkalis": alkalis}
    return shown(ask("audit", request, places), "superfat", None, None)


@function(
    "Water for a lye, in g.",
    alkali="The alkali as weighed, in g.",
    lye_concentration="Alkali as weighed in the lye: 33 means 33 %.",
    scale_step="The step of the scale, in g, to which the water is rounded. Left out: no rounding.",
)
def WATER(alkali, lye_concentration, scale_step=None):
    numbers = {"alkali": alkali, "lye_concentration": lye_concentration}
    numbers["scale_step"] = 0.0 if is_empty(scale_step) else scale_step
    for name, number in numbers.items():
        if not isinstance(number, float):
            raise Wrong("{}: accepted: a number".format(name))
    return library.figure("lxv_water_for_lye_concentration", *numbers.values())


@function(
    "A published figure of a fat.",
    fat="Its name, such as olive oil.",
    what="Which figure, such as saponification_range.low, iodine_value or inci. Left out: the "
    "saponification value, in mg KOH/g.",
)
def FAT(fat, what=None):
    if not isinstance(fat, str):
        raise Wrong("fat: accepted: the name of a fat, as text")
    entry = ask("fats", {"fat": cells.plain(fat)})["fats"][0]
    return cells.cells(cells.find(entry, "saponification_value" if is_empty(what) else what))


@function(
    "A quantity in another unit.",
    quantity="A number, or a text with a unit, such as 2 lb 3.5 oz.",
    to="The unit that is wanted, such as g.",
    unit="The unit of the quantity, where it is a number.",
)
def CONVERT(quantity, to, unit=None):
    if not isinstance(quantity, (float, str)):
        raise Wrong("quantity: accepted: a number, or a text with a unit")
    quantity = str(cells.plain(quantity))
    if not is_empty(unit):
        quantity = "{} {}".format(quantity, unit)
    return cells.cell(ask("convert", given({"quantity": quantity, "to": to}))["quantity"])


@function(
    "Any operation of Lixivium.",
    operation="Its name, such as amend.",
    request="The request: JSON, or rows of a place and its value.",
    what=WHAT.format("scale_to_fill"),
    rows=ROWS,
)
def CALL(operation, request, what=None, rows=None):
    if isinstance(request, tuple):
        request = cells.tree(request, "request")
    answer = ask(str(operation).strip(), request)
    return cells.of_height(
        cells.cells(answer if is_empty(what) else cells.find(answer, what)), rows
    )


@function("The version of Lixivium.")
def VERSION():
    return library.version()
